// Command railwright plans remote I/O stations from a signal list.
//
// Each command is one file cmd_NAME.go that registers itself (register.go); it reads its flags, calls
// one function of internal/app and shows what came back. The files page.go and summary_*.go lay text
// out for a terminal of 80 columns; progress.go shows a bar when work lasts. Exit codes: 0 done and no error
// findings, 1 error findings, 2 no design can be made or wrong usage, 3 the tool failed.
package main
