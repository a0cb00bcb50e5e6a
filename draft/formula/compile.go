package formula

import (
	"errors"
	"fmt"
	"reflect"
	"regexp"
	"slices"
	"strings"

	"github.com/expr-lang/expr"
	"github.com/expr-lang/expr/ast"
	"github.com/expr-lang/expr/builtin"
	"github.com/expr-lang/expr/compiler"
	"github.com/expr-lang/expr/conf"
	"github.com/expr-lang/expr/file"
	"github.com/expr-lang/expr/parser"
)

// maxNodes bounds the names, figures, signs and calls of one formula.
const maxNodes = 400

// disabled are all functions of the expression library, none of which is part of
// the language.
var disabled = func() map[string]bool {
	c := conf.CreateNew()
	expr.DisableAllBuiltins()(c)
	return c.Disabled
}()

// library are the functions that programs call: those of the language, one entry
// for each combination of operator and kinds under a name that no formula can
// spell, and the answer to given.
var library = func() conf.FunctionsTable {
	t := conf.FunctionsTable{}
	add := func(name string, run run) {
		t[name] = &builtin.Function{Name: name, Func: guarded(run)}
	}
	for _, f := range functions {
		add(f.name, f.run)
	}
	for sign, run := range operators {
		add(sign, run)
	}
	t[givenName] = &builtin.Function{Name: givenName, Func: answer}
	return t
}()

// run is the work of a function or an operator. The arguments have the kinds that
// its table promises; it must not keep the slice.
type run func(args []any) (Value, error)

// guarded checks what a function gives, so that nothing that is not finite or too
// large is ever handed on.
func guarded(f run) func(...any) (any, error) {
	return func(args ...any) (any, error) {
		v, err := f(args)
		if err != nil {
			return nil, err
		}
		if err := sound(v); err != nil {
			return nil, err
		}
		return v, nil
	}
}

// answer is the function given: its argument is what the values hold under the
// measure's GivenKey, nil where they hold nothing.
func answer(args ...any) (any, error) {
	yes, _ := args[0].(bool)
	return yes, nil
}

// config returns the settings of the expression library for one formula. They hold
// a cache and are not shared.
func config() *conf.Config {
	c := &conf.Config{Strict: true, ShortCircuit: true, MaxNodes: maxNodes, Functions: library, Disabled: disabled}
	c.Env = conf.EnvWithCache(&c.NtCache, map[string]any{})
	return c
}

// Compile reads a formula. The expression library parses it and makes the program;
// in between, every part is held against the language (figures, names of the scope,
// signs, conditions, calls of our functions) and its kind is worked out, so that
// only formulas whose kinds fit are ever run. A mistake is an *Error. It does not
// panic.
func Compile(source string, s *Scope) (f *Formula, err error) {
	defer func() {
		if r := recover(); r != nil {
			f, err = nil, &Error{source, 0, caught + fmt.Sprint(r)}
		}
	}()
	if e := scan(source); e != nil {
		return nil, e
	}
	settings := config()
	tree, failed := parser.ParseWithConfig(source, settings)
	if failed != nil {
		return nil, parseError(source, failed)
	}
	r := reader{source: source, scope: s, formula: &Formula{source: source}, taken: make(map[string]int)}
	root, e := r.node(tree.Node)
	if e != nil {
		return nil, e
	}
	f = r.formula
	f.kind = root.kind
	switch n := root.node.(type) {
	case *ast.ConstantNode:
		f.constant = n.Value
		return f, nil
	case *ast.IdentifierNode:
		f.name = n.Value
		return f, nil
	}
	tree.Node = root.node
	if f.program, failed = compiler.Compile(tree, settings); failed != nil {
		return nil, &Error{source, 0, "this cannot be read"}
	}
	if len(f.reads) == 0 && len(f.asks) == 0 && f.Effort(nil) <= maxFolded { // a mistake in it is one for every body
		if f.constant, err = f.Value(nil); err != nil {
			return nil, err
		}
	}
	return f, nil
}

// maxFolded is the effort up to which what does not depend on any name is worked out
// when a formula is read. What takes longer is left to those who count it.
const maxFolded = 100

// unexpected is how the expression library names the word that it did not expect.
var unexpected = regexp.MustCompile(`unexpected token (\w+)\("(.*?)"\)`)

// commaNumber is a number with a comma before its decimals.
var commaNumber = regexp.MustCompile(`([0-9]+),([0-9]+)`)

// parseError says in our words what the expression library found.
func parseError(source string, err error) *Error {
	e := &Error{Source: source, Says: "this cannot be read as a formula"}
	var placed *file.Error
	if !errors.As(err, &placed) {
		return e
	}
	e.Column = placed.From + 1
	m := placed.Message
	word := unexpected.FindStringSubmatch(m)
	switch {
	case strings.Contains(m, "unexpected token EOF"), strings.Contains(m, "unexpected end"):
		e.Says, e.Column = "the formula ends too early", len([]rune(source))
	case strings.Contains(m, "maximum allowed nodes"):
		e.Says = fmt.Sprintf("the formula has more than %d parts; put some of them into steps of their own", maxNodes)
	case strings.Contains(m, "number syntax"), strings.Contains(m, "literal"):
		e.Says = "this is no number that can be read; write a sign between a number and a name, such as 6*mm"
	case word == nil:
	case word[2] == ",":
		e.Says = "this comma stands outside a list of arguments; decimals are written with a point"
		if m := commaNumber.FindStringSubmatch(source); m != nil {
			e.Says += ": write " + m[1] + "." + m[2]
		}
	case word[2] == "in":
		e.Says = "in cannot stand here; the inch is written out, as in 0.25*inch"
	case word[1] == "Identifier" || word[1] == "Number":
		e.Says = "a sign is missing before " + word[2]
	case word[2] == "(":
		e.Says = "a sign is missing before this bracket"
	default:
		e.Says = word[2] + " cannot stand here"
	}
	return e
}

// part is a part of a formula that was read: what is compiled, its kind, and for a
// curve how many stretches it has at most.
type part struct {
	node      ast.Node
	kind      Kind
	stretches bound
}

// reader works out kinds, and rewrites every operator into the call of the function
// that does it.
type reader struct {
	source  string
	scope   *Scope
	formula *Formula
	folded  float64 // effort of what was worked out already
	// taken counts, by measure, the conditions that surround what is read and hold only
	// where the measure was taken.
	taken map[string]int
}

// node reads one part of the tree. What is not listed here is not in the language.
func (r *reader) node(n ast.Node) (part, *Error) {
	switch n := n.(type) {
	case *ast.IntegerNode:
		return r.constant(n, Number(n.Value)), nil
	case *ast.FloatNode:
		return r.constant(n, Number(n.Value)), nil
	case *ast.IdentifierNode:
		return r.name(n)
	case *ast.UnaryNode:
		return r.unary(n)
	case *ast.BinaryNode:
		return r.binary(n)
	case *ast.ConditionalNode:
		return r.condition(n)
	case *ast.CallNode:
		return r.call(n)
	case *ast.BuiltinNode:
		return part{}, r.noFunction(n, n.Name)
	case *ast.BoolNode:
		return part{}, r.errorAt(n, "there is no need for true and false; a comparison is yes or no by itself")
	}
	return part{}, r.errorAt(n, "this is no part of a formula")
}

func (r *reader) errorAt(n ast.Node, format string, args ...any) *Error {
	return errorAt(r.source, n.Location(), format, args...)
}

// constant returns the part that is a value from the start.
func (r *reader) constant(at ast.Node, v Value) part {
	n := &ast.ConstantNode{Value: v}
	p := part{node: r.typed(n, at, KindOf(v)), kind: KindOf(v)}
	if c, ok := v.(Curve); ok {
		p.stretches.fixed = float64(len(c.Path))
	}
	return p
}

// typed gives a new node the place of the one that it stands for, and a type, so
// that the compiler does not allow for pointers.
func (r *reader) typed(n, at ast.Node, k Kind) ast.Node {
	n.SetLocation(at.Location())
	n.SetType(types[k])
	return n
}

// types are the Go types of the kinds.
var types = [...]reflect.Type{
	NumberKind: reflect.TypeFor[Number](),
	LengthKind: reflect.TypeFor[Length](),
	AreaKind:   reflect.TypeFor[Area](),
	AngleKind:  reflect.TypeFor[Angle](),
	TruthKind:  reflect.TypeFor[Truth](),
	PointKind:  reflect.TypeFor[Point](),
	CurveKind:  reflect.TypeFor[Curve](),
}

// name reads a name: a constant, or a name of the scope.
func (r *reader) name(n *ast.IdentifierNode) (part, *Error) {
	if v, ok := constants[n.Value]; ok {
		return r.constant(n, v), nil
	}
	k, ok := r.scope.Kind(n.Value)
	if !ok {
		return part{}, r.noName(n)
	}
	r.reads(n.Value, k)
	p := part{node: r.typed(n, n, k), kind: k}
	r.spend(bound{fixed: readEffort})
	if k == CurveKind {
		p.stretches.each = map[string]float64{n.Value: 1}
		r.spend(p.stretches.times(readEffort))
	}
	return p, nil
}

// spend adds to what the formula costs.
func (r *reader) spend(b bound) { r.formula.effort = r.formula.effort.plus(b) }

// reads notes that the formula reads a name.
func (r *reader) reads(name string, k Kind) {
	taken := r.taken[name] > 0
	for i := range r.formula.reads {
		if known := &r.formula.reads[i]; known.name == name {
			known.taken = known.taken && taken
			return
		}
	}
	r.formula.reads = append(r.formula.reads, read{name, k, taken})
}

// assuming reads a part that is worked out only where the condition holds, or only where
// it does not, and so only where the measures that it asks about were taken.
func (r *reader) assuming(condition ast.Node, holds bool, n ast.Node) (part, *Error) {
	names := assured(condition, holds)
	for _, name := range names {
		r.taken[name]++
	}
	p, err := r.node(n)
	for _, name := range names {
		r.taken[name]--
	}
	return p, err
}

// assured returns the measures that were surely taken where a condition holds, or where it
// does not.
func assured(n ast.Node, holds bool) []string {
	switch n := n.(type) {
	case *ast.CallNode:
		callee, isName := n.Callee.(*ast.IdentifierNode)
		if !holds || !isName || callee.Value != givenName || len(n.Arguments) != 1 {
			return nil
		}
		if m, ok := n.Arguments[0].(*ast.IdentifierNode); ok {
			return []string{m.Value}
		}
	case *ast.UnaryNode:
		if n.Operator == "not" {
			return assured(n.Node, !holds)
		}
	case *ast.BinaryNode:
		if holds && n.Operator == "and" || !holds && n.Operator == "or" {
			return append(assured(n.Left, holds), assured(n.Right, holds)...)
		}
	}
	return nil
}

// unary reads a minus sign or "not" before one part.
func (r *reader) unary(n *ast.UnaryNode) (part, *Error) {
	p, err := r.node(n.Node)
	if err != nil {
		return part{}, err
	}
	switch n.Operator {
	case "not":
		if p.kind != TruthKind {
			return part{}, r.errorAt(n, "'not' turns a yes or no about, and this is %s; put brackets round a comparison", p.kind.article())
		}
		return r.truth(&ast.UnaryNode{Operator: "not", Node: p.node}, n), nil
	case "-":
		if !p.kind.figure() {
			return part{}, r.errorAt(n, "%s cannot have a minus sign", p.kind.article())
		}
		return r.apply(n, "-"+p.kind.String(), p.kind, p), nil
	}
	return part{}, r.errorAt(n, "there is nothing before this %s", n.Operator)
}

// binary reads a sign between two parts.
func (r *reader) binary(n *ast.BinaryNode) (part, *Error) {
	if n.Operator == "&&" { // "a < b < c", which shares b, or it would be refused by scan
		return part{}, r.errorAt(n, "compare two values at a time, with 'and' between the comparisons")
	}
	a, err := r.node(n.Left)
	if err != nil {
		return part{}, err
	}
	var b part
	switch n.Operator {
	case "and", "or": // the right is looked at only where the left leaves it open
		b, err = r.assuming(n.Left, n.Operator == "and", n.Right)
	default:
		b, err = r.node(n.Right)
	}
	if err != nil {
		return part{}, err
	}
	if n.Operator == "and" || n.Operator == "or" {
		if a.kind != TruthKind || b.kind != TruthKind {
			return part{}, r.errorAt(n, "'%s' joins two comparisons, and here are %s and %s", n.Operator, a.kind.article(), b.kind.article())
		}
		return r.truth(&ast.BinaryNode{Operator: n.Operator, Left: a.node, Right: b.node}, n), nil
	}
	gives, name, says := operator(n.Operator, a.kind, b.kind)
	if says != "" {
		return part{}, r.errorAt(n, "%s", says)
	}
	return r.apply(n, name, gives, a, b), nil
}

// condition reads c ? a : b.
func (r *reader) condition(n *ast.ConditionalNode) (part, *Error) {
	if n.Cond == n.Exp1 {
		return part{}, r.errorAt(start(n.Cond), "between ? and : stands the value for yes")
	}
	c, err := r.node(n.Cond)
	if err != nil {
		return part{}, err
	}
	if c.kind != TruthKind {
		return part{}, r.errorAt(start(n.Cond), "before ? stands a comparison, and this is %s", c.kind.article())
	}
	a, err := r.assuming(n.Cond, true, n.Exp1)
	if err != nil {
		return part{}, err
	}
	b, err := r.assuming(n.Cond, false, n.Exp2)
	if err != nil {
		return part{}, err
	}
	if a.kind != b.kind {
		return part{}, r.errorAt(start(n.Cond), "both sides of a condition must be of one kind, and here are %s and %s", a.kind.article(), b.kind.article())
	}
	r.spend(bound{fixed: signEffort})
	node := r.typed(&ast.ConditionalNode{Ternary: true, Cond: c.node, Exp1: a.node, Exp2: b.node}, n, a.kind)
	return part{node, a.kind, a.stretches.plus(b.stretches)}, nil
}

// call reads the call of a function.
func (r *reader) call(n *ast.CallNode) (part, *Error) {
	callee, ok := n.Callee.(*ast.IdentifierNode)
	if !ok {
		return part{}, r.errorAt(n, "this is no part of a formula")
	}
	if callee.Value == givenName {
		return r.given(n)
	}
	f := functions[callee.Value]
	if f == nil {
		return part{}, r.noFunction(n, callee.Value)
	}
	parts := make([]part, len(n.Arguments))
	kinds := make([]Kind, len(n.Arguments))
	for i, a := range n.Arguments {
		p, err := r.node(a)
		if err != nil {
			return part{}, err
		}
		parts[i], kinds[i] = p, p.kind
	}
	gives, wrong, says := f.accepts(kinds)
	switch {
	case says == "":
		return r.apply(n, f.name, gives, parts...), nil
	case wrong >= 0:
		return part{}, r.errorAt(start(n.Arguments[wrong]), "%s", says)
	}
	return part{}, r.errorAt(n, "%s", says)
}

// start returns the leftmost node of an expression, where people look for it.
func start(n ast.Node) ast.Node {
	for {
		switch m := n.(type) {
		case *ast.BinaryNode:
			n = m.Left
		case *ast.ConditionalNode:
			n = m.Cond
		default:
			return n
		}
	}
}

// given reads given(measure).
func (r *reader) given(n *ast.CallNode) (part, *Error) {
	if len(n.Arguments) != 1 {
		return part{}, r.errorAt(n, "given asks about one measure, as in given(waist_girth)")
	}
	name, ok := n.Arguments[0].(*ast.IdentifierNode)
	if !ok {
		return part{}, r.errorAt(n, "given asks about one measure by its name, as in given(waist_girth)")
	}
	if !r.scope.given[name.Value] {
		if _, known := r.scope.Kind(name.Value); known {
			return part{}, r.errorAt(name, "%s is no measure, so that nobody can have given it", name.Value)
		}
		return part{}, r.noName(name)
	}
	if !slices.Contains(r.formula.asks, name.Value) {
		r.formula.asks = append(r.formula.asks, name.Value)
	}
	key := r.typed(&ast.IdentifierNode{Value: GivenKey(name.Value)}, n, TruthKind)
	return r.truth(r.callNode(n, givenName, TruthKind, key), n), nil
}

// truth returns the part that is a yes or no.
func (r *reader) truth(n, at ast.Node) part {
	r.spend(bound{fixed: signEffort})
	return part{node: r.typed(n, at, TruthKind), kind: TruthKind}
}

// apply returns the call of a function of the library, or its value where every
// argument is known, the function has one for them, and it is soon found.
func (r *reader) apply(at ast.Node, name string, gives Kind, parts ...part) part {
	nodes := make([]ast.Node, len(parts))
	args := make([]any, 0, len(parts))
	for i, p := range parts {
		nodes[i] = p.node
		if c, ok := p.node.(*ast.ConstantNode); ok {
			args = append(args, c.Value)
		}
	}
	effort, stretches := callEffort(name, gives, parts)
	if cost := effort.value(nil); len(args) == len(parts) && r.folded+cost <= maxFolded {
		r.folded += cost
		// An error is left to the evaluation, which may never come by here.
		if v, err := library[name].Func(args...); err == nil {
			return r.constant(at, v)
		}
	}
	r.spend(effort)
	return part{r.callNode(at, name, gives, nodes...), gives, stretches}
}

func (r *reader) callNode(at ast.Node, name string, gives Kind, args ...ast.Node) ast.Node {
	return r.typed(&ast.CallNode{Callee: &ast.IdentifierNode{Value: name}, Arguments: args}, at, gives)
}
