// Package words is the message catalogue: the text that railwright shows to people, apart from the
// messages of findings, which the rule that reports them words itself.
//
// Text fills a message in, Count prints a number with its noun ("1 station", "3 stations"). A key
// that the catalogue does not hold is a programmer's mistake and panics; a test reads the source
// for every use of a key, so that it cannot happen at run time. Screens and files for machines are
// English; printed documents speak a Language (Say), and a test holds the catalogues against each
// other.
package words
