// Command hem does from a terminal what the workbench does in its window.
//
// It exits with 0 when the work is done and no check found a problem, with 1 when
// it is done but a check found one, and with 2 when it could not be done: then one
// line on standard error says why, and no file was made or changed.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"

	"github.com/alecthomas/kong"
)

const (
	exitDone    = 0
	exitProblem = 1
	exitFailed  = 2
)

// errProblem says that the work is done but a check found a problem.
var errProblem = errors.New("a check found a problem")

// verbs are what hem can do, one field each.
type verbs struct {
	Import importVerb `cmd:"" help:"Make pieces of the closed lines of SVG or DXF drawings."`
	Check  checkVerb  `cmd:"" help:"Run every check of a project."`
	Do     doVerb     `cmd:"" help:"Do any act of the bench."`
	Export exportVerb `cmd:"" help:"Write a project true to size, for paper or for a machine."`
	Sample sampleVerb `cmd:"" help:"Write the sample: the lamplighter's smock of Quill, a hedgehog puppet."`
}

// terminal is where a verb prints.
type terminal struct {
	out, err io.Writer
}

func (t *terminal) printf(format string, args ...any) { fmt.Fprintf(t.out, format, args...) }

// notef prints a remark that is not the verb's result.
func (t *terminal) notef(format string, args ...any) { fmt.Fprintf(t.err, format+"\n", args...) }

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	os.Exit(run(ctx, os.Args[1:], os.Stdout, os.Stderr))
}

// helped is thrown by kong's exit after it has printed help.
type helped struct{ code int }

// run does what the arguments say and returns the exit code.
func run(ctx context.Context, args []string, stdout, stderr io.Writer) (code int) {
	defer func() {
		if h, ok := recover().(helped); ok {
			code = h.code
		}
	}()
	var v verbs
	parser, err := kong.New(&v,
		kong.Name("hem"),
		kong.Description("Patterns for one-off costumes, from a terminal. Lengths are 6mm, 1.5cm, 1/4in, 3 1/2in; a bare number is an error."),
		kong.Writers(stdout, stderr),
		kong.Exit(func(code int) { panic(helped{code}) }),
		kong.BindTo(ctx, (*context.Context)(nil)),
		kong.Bind(&terminal{out: stdout, err: stderr}),
	)
	if err != nil {
		fmt.Fprintln(stderr, "hem:", err)
		return exitFailed
	}
	if len(args) == 0 {
		args = []string{"--help"}
	}
	call, err := parser.Parse(args)
	if err == nil {
		err = call.Run()
	}
	switch {
	case err == nil:
		return exitDone
	case errors.Is(err, errProblem):
		return exitProblem
	default:
		fmt.Fprintln(stderr, "hem:", oneLine(err))
		return exitFailed
	}
}

// oneLine returns the error's text without line breaks, as scripts expect it.
func oneLine(err error) string {
	return strings.Join(strings.Fields(err.Error()), " ")
}
