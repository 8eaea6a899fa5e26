package words

import "fmt"

// Language is a language of printed documents. Screens and all files for machines are English.
type Language string

// The languages. The zero value is English.
const (
	English Language = "en"
	German  Language = "de"
)

// Languages are the languages that documents can be printed in.
var Languages = []Language{English, German}

// Say returns a text of the catalogue in the language, as Text does; English where the language has none.
func (l Language) Say(key string, args ...any) string {
	s, ok := catalogue(l)[key]
	if !ok {
		return Text(key, args...)
	}
	if len(args) == 0 {
		return s
	}
	return fmt.Sprintf(s, args...)
}

func catalogue(l Language) map[string]string {
	if l == German {
		return german
	}
	return english
}

// Or returns the text of a key in the language where it is not English, and fallback where the language
// has none: for texts that other rooms have put into English already.
func (l Language) Or(key, fallback string) string {
	if l != English && l != "" {
		if s, ok := catalogue(l)[key]; ok {
			return s
		}
	}
	return fallback
}
