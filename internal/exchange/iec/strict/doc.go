// Package strict reads IEC 61131-3 Structured Text and forgives nothing. Parse takes a whole source of
// functions, programs and configurations; Check proves what a compiler would: every name legal, unique
// without regard to case and declared before use, every type known, both sides of every assignment of one
// type, every call complete, every located variable of the size of its type.
//
// It is written after the grammar of IEC 61131-3 (annex A) and shares nothing with the writer, which it judges in tests and before every
// export leaves the tool; it also brings exported files back in (Globals). It covers what such files hold:
// elementary types, functions, programs, assignments, IF, expressions and calls; not function blocks,
// user-defined types, loops or the other languages. Those are reported as errors, not skipped.
package strict
