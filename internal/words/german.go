package words

// german holds the texts of printed documents in German. A key must stand in english too, with the same
// verbs in the same order.
var german = map[string]string{}
