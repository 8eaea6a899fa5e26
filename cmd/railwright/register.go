package main

import (
	"cmp"
	"slices"

	"github.com/alecthomas/kong"
)

// command is one command: a struct with kong's tags and a method Run(*request) error; its method
// Help gives the text below the usage line, which ends in an example.
type command struct {
	order int // place in the listing, which follows the job
	name  string
	help  string
	make  func() any
}

var commands []command

// register adds a command; each cmd_NAME.go calls it from its init. So a new command is one file.
func register(order int, name, help string, make func() any) {
	commands = append(commands, command{order, name, help, make})
}

func dynamicCommands() []kong.Option {
	all := slices.Clone(commands)
	slices.SortFunc(all, func(a, b command) int { return cmp.Or(cmp.Compare(a.order, b.order), cmp.Compare(a.name, b.name)) })
	var options []kong.Option
	for _, c := range all {
		options = append(options, kong.DynamicCommand(c.name, c.help, "", c.make()))
	}
	return options
}
