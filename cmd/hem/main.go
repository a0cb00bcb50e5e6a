// Command hem does from a terminal what the workbench does in its window.
//
// It exits with 0 when the work is done and no check found a problem, with 1 when
// it is done but a check found one, and with 2 when it could not be done: then one
// line on standard error says why, and no file was made or changed.
package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"
	"unicode"

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
	Blocks   blocksVerb   `cmd:"" help:"List the blocks with the measures that each needs."`
	Draft    draftVerb    `cmd:"" help:"Draft a block for a wearer."`
	Import   importVerb   `cmd:"" help:"Make pieces of the closed lines of SVG or DXF drawings."`
	Trace    traceVerb    `cmd:"" help:"Make pieces of what scans and photographs of patterns show."`
	Check    checkVerb    `cmd:"" help:"Run every check of a project."`
	Fit      fitVerb      `cmd:"" help:"Re-shape a pattern for another wearer."`
	Do       doVerb       `cmd:"" help:"Do any act of the bench."`
	Export   exportVerb   `cmd:"" help:"Write a project true to size, for paper or for a machine."`
	Measures measuresVerb `cmd:"" help:"List the measures that bodies are known by, or write a blank sheet to note them on."`
	Ruffle   ruffleVerb   `cmd:"" help:"Work out the strips of a ruffle: how long, how many, how they are joined."`
	Sample   sampleVerb   `cmd:"" help:"Write the sample: the lamplighter's smock of Quill, a hedgehog puppet."`
}

// terminal is where a verb prints.
type terminal struct {
	out, err io.Writer
}

func (t *terminal) printf(format string, args ...any) {
	io.WriteString(t.out, harmless(fmt.Sprintf(format, args...)))
}

// json prints facts as scripts read them.
func (t *terminal) json(facts any) error {
	enc := json.NewEncoder(t.out)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	return enc.Encode(facts)
}

// mostRemarks is how many remarks are printed one by one: more are not read.
const mostRemarks = 20

// remarks prints what is worth knowing about work that is done, one line each.
func (t *terminal) remarks(list []string) {
	for i, says := range list {
		if i == mostRemarks {
			fmt.Fprintf(t.err, "and %d more remarks\n", len(list)-i)
			return
		}
		fmt.Fprintln(t.err, inOneLine(says))
	}
}

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	// Asked a second time it ends at once, whatever it is doing.
	context.AfterFunc(ctx, stop)
	os.Exit(run(ctx, os.Args[1:], os.Stdout, os.Stderr))
}

// helped is thrown by kong's exit after it has printed help.
type helped struct{ code int }

// run does what the arguments say and returns the exit code.
func run(ctx context.Context, args []string, stdout, stderr io.Writer) (code int) {
	defer func() {
		switch thrown := recover().(type) {
		case nil:
		case helped:
			code = thrown.code
		default:
			panic(thrown) // a defect of ours, and never to pass for work done
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
	if err != nil {
		err = fmt.Errorf("%w; %s tells how it is written", err, helpFor(parser, args))
	} else {
		err = call.Run()
	}
	switch {
	case err == nil:
		return exitDone
	case errors.Is(err, errProblem):
		return exitProblem
	default:
		fmt.Fprintln(stderr, "hem:", inOneLine(err.Error()))
		return exitFailed
	}
}

// helpFor returns the command that explains the verb of a command line, or all verbs.
func helpFor(parser *kong.Kong, args []string) string {
	for _, verb := range parser.Model.Children {
		if len(args) > 0 && verb.Name == args[0] {
			return "hem " + verb.Name + " --help"
		}
	}
	return "hem --help"
}

// longestLine bounds a message, in characters: a name in a broken file may be long.
const longestLine = 600

// inOneLine returns a text of bounded length without line breaks, as scripts and
// people can expect it.
func inOneLine(text string) string {
	text = text[:min(len(text), 4*longestLine)]
	text = strings.Join(strings.Fields(harmless(text)), " ")
	if runes := []rune(text); len(runes) > longestLine {
		text = string(runes[:longestLine]) + " ..."
	}
	return text
}

// harmless takes out the signs that steer a terminal or turn the order of letters:
// names come from files, and files from anywhere.
func harmless(text string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) && !unicode.IsSpace(r) || unicode.Is(unicode.Bidi_Control, r) {
			return -1
		}
		return r
	}, strings.ToValidUTF8(text, ""))
}
