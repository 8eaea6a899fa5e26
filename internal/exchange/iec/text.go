package iec

import (
	"fmt"
	"strings"
)

// Text prints the unit as one IEC 61131-3 source file: functions, the program, the configuration. Lines end
// with a line feed; every byte is ASCII.
func Text(u *Unit) []byte {
	w := &printer{}
	w.head(u.Head)
	for _, f := range u.Functions {
		w.function(f)
	}
	w.program(u)
	w.configuration(u)
	return []byte(w.b.String())
}

type printer struct{ b strings.Builder }

func (w *printer) line(indent int, format string, args ...any) {
	w.b.WriteString(strings.Repeat("  ", indent))
	fmt.Fprintf(&w.b, format, args...)
	w.b.WriteByte('\n')
}

func (w *printer) head(h Head) {
	w.line(0, "(* %s, controller %s, revision %s *)", escape(h.Project), escape(h.Controller), escape(h.Revision))
	w.line(0, "(* written by %s from input %s *)", escape(h.Tool), escape(h.Input))
	unit := "bytes: %IW4 begins at byte 4"
	if h.Convention == "word" {
		unit = "words: %IW4 is the fifth word, bytes 8 and 9"
	}
	w.line(0, "(* addresses count %s *)", unit)
	w.line(0, "(* %s writes every analogue output. Try it without the process before it runs on the plant. *)\n", ProgramName)
}

func (w *printer) function(f Function) {
	w.line(0, "(* %s *)", f.Note)
	w.line(0, "FUNCTION %s : %s", f.Name, f.Result)
	w.vars("VAR_INPUT", f.Inputs)
	w.vars("VAR", f.Locals)
	for _, l := range f.Body {
		w.line(1, "%s", l)
	}
	w.line(0, "END_FUNCTION\n")
}

func (w *printer) vars(kind string, all []Variable) {
	if len(all) == 0 {
		return
	}
	w.line(1, "%s", kind)
	for _, v := range all {
		w.line(2, "%s : %s;", v.Name, v.Type)
	}
	w.line(1, "END_VAR")
}

// program prints the program. Without analogue signals it sets a variable of its own, since some compilers
// refuse a program without any statement.
func (w *printer) program(u *Unit) {
	w.line(0, "PROGRAM %s", ProgramName)
	uses := u.Externals()
	w.vars("VAR_EXTERNAL", uses)
	if len(u.Body) == 0 {
		w.vars("VAR", []Variable{idle})
	}
	for _, l := range body(u) {
		w.line(1, "%s", l)
	}
	w.line(0, "END_PROGRAM\n")
}

// idle is the variable of a program that has nothing to scale.
var idle = Variable{Name: "IDLE", Type: "BOOL"}

func body(u *Unit) []string {
	if len(u.Body) == 0 {
		return []string{"IDLE := TRUE;"}
	}
	return u.Body
}

func (w *printer) configuration(u *Unit) {
	w.line(0, "CONFIGURATION %s", ConfigurationName)
	w.globals(u.Located)
	w.globals(u.Values)
	w.line(1, "RESOURCE %s ON %s", ResourceName, TargetName)
	w.line(2, "TASK %s(INTERVAL := T#%dms, PRIORITY := 1);", TaskName, u.Head.IntervalMS)
	w.line(2, "PROGRAM %s WITH %s : %s;", InstanceName, TaskName, ProgramName)
	w.line(1, "END_RESOURCE")
	w.line(0, "END_CONFIGURATION")
}

func (w *printer) globals(all []Variable) {
	if len(all) == 0 {
		return
	}
	w.line(1, "VAR_GLOBAL")
	for _, v := range all {
		at, initial := "", ""
		if v.Address != "" {
			at = " AT " + v.Address
		}
		if v.Initial != "" {
			initial = " := " + v.Initial
		}
		w.line(2, "%s%s : %s%s; (* %s *)", v.Name, at, v.Type, initial, Comment(v))
	}
	w.line(1, "END_VAR")
}
