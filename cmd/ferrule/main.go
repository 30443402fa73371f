// Command ferrule is a second door to the core: the same pipeline on files,
// and the static server that delivers the app.
package main

import (
	"fmt"
	"io"
	"os"
)

// Exit statuses: done, the input can't be used, wrong usage, a question of a
// file is open.
const (
	exitDone  = 0
	exitInput = 1
	exitUsage = 2
	exitOpen  = 3
)

// streams are the standard streams, passed so that tests can hold them.
type streams struct {
	in       io.Reader
	out, err io.Writer
}

// command runs one subcommand and returns its exit status.
type command func(args []string, std streams) int

func main() {
	os.Exit(run(os.Args[1:], streams{os.Stdin, os.Stdout, os.Stderr}))
}

const usage = `ferrule fits an adjustable golf club to a player's shots.

  ferrule serve [-addr HOST:PORT] [-dir SITE]       deliver the app; prints its address
  ferrule read  FILE [-json]                        what a shot file holds
  ferrule fly   [-json] (FILE | speed launch spin)  flights of launches
  ferrule fit   FILE -club CLUB.json [-aim AIM.json] [-json]
                                                    the whole job
  ferrule sheet FILE -club CLUB.json -o SHEET.html  the fitting sheet
  ferrule follow BEFORE NOW -club CLUB.json         two visits compared
  ferrule watch DIR -club CLUB.json [-json]         the answer after each block that a device writes there
  ferrule learn (DIR | SESSION | RECORD)... -o RECORD
                                                    a record of a head from sessions of many players
  ferrule prior                                     what physics believes of each adjustment
  ferrule simulate                                  invented players: regret and coverage
  ferrule version
`

func run(args []string, std streams) int {
	if len(args) == 0 {
		fmt.Fprint(std.err, usage)
		return exitUsage
	}
	if args[0] == "help" || args[0] == "-h" || args[0] == "--help" {
		fmt.Fprint(std.out, usage)
		return exitDone
	}
	cmd, ok := commands[args[0]]
	if !ok {
		fmt.Fprintf(std.err, "ferrule: no command %q; expected one of serve, read, fly, fit, sheet, follow, watch, learn, prior, simulate, version\n", args[0])
		return exitUsage
	}
	return cmd(args[1:], std)
}

// commands maps a name to its command; each file adds its own.
var commands = map[string]command{}
