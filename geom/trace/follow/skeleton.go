package follow

import (
	"errors"
	"math/bits"

	"hemlet/geom"
)

// node is where branches meet or end.
type node struct {
	at   geom.Point
	ends []int // half branches that leave here: 2 k from the start of branch k, 2 k + 1 from its end
}

// branch is a line between two nodes, or a loop of its own.
type branch struct {
	from, to int // nodes; both -1 for a loop of its own
	raw      []geom.Point
	pts      []stroke // the middle of the stroke along it, with what was seen there
	patch    int      // of connected ink
	bridge   bool     // over a gap
	gone     bool
}

// drawing is the network of the lines of a picture.
type drawing struct {
	nodes    []node
	branches []branch
	pens     []float64 // width of the pen in px, by patch
}

// mostNodes bounds the ends and crossings of a drawing. A sheet of A0 full of pieces has
// some thousand.
const mostNodes = 200_000

// errTangled is the error for a picture that is no drawing.
var errTangled = errors.New("this is not a line drawing: it has more crossings than can be told apart; clean the picture, or follow edges")

// Kinds of pixels of a thinned bitmap.
const (
	isChain = 1
	isNode  = 2
	isDone  = 4
)

// network reads the nodes and branches of a thinned bitmap, which it uses up.
func (b *bitmap) network() (*drawing, error) {
	around := b.around()
	var line []int32
	for i, v := range b.p {
		if v == 1 {
			line = append(line, int32(i))
		}
	}
	var knots []int32
	for _, i := range line {
		if bits.OnesCount(uint(b.neighbours(i, &around))) != 2 {
			knots = append(knots, i)
		}
	}
	for _, i := range knots {
		b.p[i] |= isNode
	}
	d := &drawing{}
	of := make(map[int32]int, len(knots))
	for _, i := range knots {
		if _, ok := of[i]; ok {
			continue
		}
		if len(d.nodes) >= mostNodes {
			return nil, errTangled
		}
		d.nodes = append(d.nodes, node{at: b.gather(i, len(d.nodes), of, &around)})
	}
	for _, i := range knots {
		for _, s := range around {
			if n := i + s; b.p[n]&isChain != 0 && b.p[n]&(isNode|isDone) == 0 {
				d.add(b.chain(i, n, of, &around))
			}
		}
	}
	for _, i := range line {
		if b.p[i]&(isNode|isDone) == 0 {
			d.add(b.loop(i, &around))
		}
	}
	return d, nil
}

// gather puts the pixels of the node that pixel i is of into of, and returns their middle.
func (b *bitmap) gather(i int32, id int, of map[int32]int, around *[8]int32) geom.Point {
	of[i] = id
	todo := []int32{i}
	var sum geom.Point
	for k := 0; k < len(todo); k++ {
		sum = sum.Add(b.middle(todo[k]))
		for _, s := range around {
			n := todo[k] + s
			if _, ok := of[n]; !ok && b.p[n]&isNode != 0 {
				of[n] = id
				todo = append(todo, n)
			}
		}
	}
	return sum.Mul(1 / float64(len(todo)))
}

// middle returns the middle of the pixel at an index.
func (b *bitmap) middle(i int32) geom.Point {
	x, y := b.place(i)
	return geom.Pt(float64(x)+0.5, float64(y)+0.5)
}

// chain follows the line from a node's pixel by way of pixel i to the next node.
func (b *bitmap) chain(from, i int32, of map[int32]int, around *[8]int32) branch {
	r := branch{from: of[from], to: -1, raw: nil}
	last := from
	for {
		b.p[i] |= isDone
		r.raw = append(r.raw, b.middle(i))
		next := int32(-1)
		for _, s := range around {
			if n := i + s; n != last && b.p[n]&isChain != 0 {
				next = n
			}
		}
		if next < 0 {
			return r
		}
		if b.p[next]&isNode != 0 {
			r.to = of[next]
			return r
		}
		if b.p[next]&isDone != 0 {
			return r
		}
		last, i = i, next
	}
}

// loop follows a line without nodes.
func (b *bitmap) loop(i int32, around *[8]int32) branch {
	r := branch{from: -1, to: -1}
	for i >= 0 {
		b.p[i] |= isDone
		r.raw = append(r.raw, b.middle(i))
		next := int32(-1)
		for _, s := range around {
			if n := i + s; b.p[n]&isChain != 0 && b.p[n]&isDone == 0 {
				next = n
				break
			}
		}
		i = next
	}
	return r
}

// leastLoop is the number of pixels of the smallest loop at a node: smaller ones are of the
// node itself.
const leastLoop = 4

// add takes a branch into the network.
func (d *drawing) add(r branch) {
	own := r.from < 0
	if !own && (r.to < 0 || r.from == r.to && len(r.raw) < leastLoop) {
		return
	}
	k := len(d.branches)
	d.branches = append(d.branches, r)
	if own {
		return
	}
	d.nodes[r.from].ends = append(d.nodes[r.from].ends, 2*k)
	d.nodes[r.to].ends = append(d.nodes[r.to].ends, 2*k+1)
}

// nodeOf returns the node that half branch h leaves from.
func (d *drawing) nodeOf(h int) int {
	if h%2 == 0 {
		return d.branches[h/2].from
	}
	return d.branches[h/2].to
}

// degree returns how many branches leave a node.
func (d *drawing) degree(n int) int { return len(d.nodes[n].ends) }

// remove takes a branch out.
func (d *drawing) remove(k int) {
	r := &d.branches[k]
	r.gone = true
	if r.from < 0 {
		return
	}
	d.unhook(2 * k)
	d.unhook(2*k + 1)
}

// unhook takes a half branch off its node.
func (d *drawing) unhook(h int) {
	n := &d.nodes[d.nodeOf(h)]
	for i, e := range n.ends {
		if e == h {
			n.ends = append(n.ends[:i], n.ends[i+1:]...)
			return
		}
	}
}

// patches numbers the connected parts of the drawing, and returns how many there are.
func (d *drawing) patches() int {
	root := make([]int, len(d.nodes))
	for i := range root {
		root[i] = i
	}
	find := func(i int) int {
		for root[i] != i {
			root[i] = root[root[i]]
			i = root[i]
		}
		return i
	}
	for _, r := range d.branches {
		if !r.gone && r.from >= 0 {
			root[find(r.from)] = find(r.to)
		}
	}
	number := map[int]int{}
	count := 0
	for k := range d.branches {
		r := &d.branches[k]
		if r.gone {
			continue
		}
		if r.from < 0 {
			r.patch = count
			count++
			continue
		}
		id, ok := number[find(r.from)]
		if !ok {
			id = count
			number[find(r.from)] = id
			count++
		}
		r.patch = id
	}
	return count
}
