package store

import (
	"bytes"
	"compress/flate"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"hemlet/draft"
)

// Bounds of a history that is kept. Steps far from the present are left out first.
const (
	maxPastSteps = 100
	maxPastBytes = 8 << 20
	// maxPastText bounds the texts of all steps together when they are read.
	maxPastText = 256 << 20
	// maxPasts is of how many documents histories are kept, those used last.
	maxPasts = 40
)

// Names in the state folder, and what a history begins with.
const (
	pastFolder = "history"
	pastEnding = ".history"
	pastMagic  = "hemlet history 1\n"
)

// Records of a history besides recordDocument.
const (
	recordFile = 'f' // the SHA-256 of the file to which the history belongs
	recordStep = 's' // a step
)

// ErrOtherFile is the cause of the error about a history of a file that has changed
// since.
var ErrOtherFile = errors.New("the file was changed elsewhere since its history was written")

// pastPath returns the file that keeps the history of a document.
func pastPath(state, document string) string {
	sum := sha256.Sum256([]byte(absolute(document)))
	return filepath.Join(state, pastFolder, hex.EncodeToString(sum[:16])+pastEnding)
}

// WritePast keeps the history of a document whose file is what the stamp says, with the
// maker standing at step at, which is what the file holds. It is bounded: what lies
// farthest from the present is left out.
func WritePast(state, document string, file Stamp, steps []draft.Step, at int) error {
	path := pastPath(state, document)
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return unwritable(filepath.Dir(path), err)
	}
	text := encodePast(absolute(document), file, steps, at)
	if err := Replace(path, func(w io.Writer) error {
		_, err := w.Write(text)
		return err
	}); err != nil {
		return err
	}
	sweepPasts(filepath.Dir(path))
	return nil
}

// sweepPasts removes the histories of the documents that were not used for longest.
func sweepPasts(dir string) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return
	}
	type aged struct {
		path string
		when time.Time
	}
	var list []aged
	for _, e := range entries {
		info, err := e.Info()
		if err == nil && strings.HasSuffix(e.Name(), pastEnding) {
			list = append(list, aged{filepath.Join(dir, e.Name()), info.ModTime()})
		}
	}
	slices.SortFunc(list, func(a, b aged) int { return b.when.Compare(a.when) })
	for _, old := range list[min(len(list), maxPasts):] {
		os.Remove(old.path)
	}
}

// encodePast writes a history: the present step first, then those before it, the latest
// first, then those after it. Each is told by what differs from its neighbour.
func encodePast(document string, file Stamp, steps []draft.Step, at int) []byte {
	now := time.Now()
	text := []byte(pastMagic)
	text = appendRecord(text, record{recordDocument, now, []byte(document)})
	text = appendRecord(text, record{recordFile, now, file.Hash[:]})
	present := Encode(steps[at].Project)
	text = appendRecord(text, record{recordStep, now, stepBody(0, steps[at].Name, nil, present)})
	left := maxPastSteps - 1
	for _, by := range []int{-1, 1} {
		before := present
		for i := at + by; i >= 0 && i < len(steps) && left > 0; i += by {
			next := Encode(steps[i].Project)
			body := stepBody(i-at, steps[i].Name, before, next)
			if len(text)+recordHead+len(body) > maxPastBytes {
				break
			}
			text = appendRecord(text, record{recordStep, now, body})
			before = next
			left--
		}
	}
	return text
}

// stepBody writes a step: how far it is from the present, its name, how many bytes its
// text has in common with its neighbour's at the beginning and at the end, and what lies
// between, packed.
func stepBody(from int, name string, before, text []byte) []byte {
	head, tail := common(before, text)
	b := binary.AppendVarint(nil, int64(from))
	b = binary.AppendUvarint(b, uint64(len(name)))
	b = append(b, name...)
	b = binary.AppendUvarint(b, uint64(head))
	b = binary.AppendUvarint(b, uint64(tail))
	var packed bytes.Buffer
	w, _ := flate.NewWriter(&packed, flate.BestSpeed) // the level is a good one
	w.Write(text[head : len(text)-tail])
	w.Close()
	return append(b, packed.Bytes()...)
}

// common returns how many bytes two texts share at the beginning and at the end.
func common(a, b []byte) (head, tail int) {
	most := min(len(a), len(b))
	for head < most && a[head] == b[head] {
		head++
	}
	for tail < most-head && a[len(a)-1-tail] == b[len(b)-1-tail] {
		tail++
	}
	return head, tail
}

// ReadPast returns the history that was kept of a document, and the step at which the
// maker stood. There is none, and no error, where none was kept. The error is
// ErrOtherFile where the file is not what it was then. What cannot be read of it is left
// out.
func ReadPast(state, document string, file Stamp) (steps []draft.Step, at int, err error) {
	path := pastPath(state, document)
	text, _, err := readFile(path, maxPastBytes+draft.MaxTextBytes) // one step may be beyond the bound
	if errors.Is(err, fs.ErrNotExist) {
		return nil, 0, nil
	}
	if err != nil {
		return nil, 0, named(path, err)
	}
	return decodePast(text, file.Hash[:])
}

// pastStep is a step as it is read.
type pastStep struct {
	from int
	name string
	text []byte
}

func decodePast(text, hash []byte) (steps []draft.Step, at int, err error) {
	rest, ok := bytes.CutPrefix(text, []byte(pastMagic))
	if !ok {
		return nil, 0, nil
	}
	var present []byte
	var past, future []draft.Step
	var before []byte
	total := 0
	for _, r := range parseRecords(rest) {
		switch r.kind {
		case recordFile:
			if !bytes.Equal(r.body, hash) {
				return nil, 0, ErrOtherFile
			}
		case recordStep:
			s, ok := readStep(r.body, present, before)
			if total += len(s.text); !ok || total > maxPastText {
				return assemble(past, future)
			}
			p, err := Decode(s.text)
			if err != nil {
				return assemble(past, future)
			}
			step := draft.Step{Name: s.name, Project: p}
			switch {
			case s.from == 0 && present == nil:
				present, past = s.text, []draft.Step{step}
			case s.from == -len(past) && present != nil:
				past = append(past, step)
			case s.from == len(future)+1 && present != nil:
				future = append(future, step)
			default:
				return assemble(past, future)
			}
			before = s.text
		}
	}
	return assemble(past, future)
}

// assemble puts the steps in order: past holds the present one first.
func assemble(past, future []draft.Step) ([]draft.Step, int, error) {
	if len(past) == 0 {
		return nil, 0, nil
	}
	slices.Reverse(past)
	return append(past, future...), len(past) - 1, nil
}

// readStep reads a step whose neighbour has the text before; the first one after the
// present has that for its neighbour.
func readStep(body, present, before []byte) (s pastStep, ok bool) {
	r := bytes.NewReader(body)
	from, err := binary.ReadVarint(r)
	if err != nil || from < -maxPastSteps || from > maxPastSteps {
		return s, false
	}
	n, err := binary.ReadUvarint(r)
	if err != nil || n > uint64(r.Len()) {
		return s, false
	}
	name := make([]byte, n)
	r.Read(name)
	head, err := binary.ReadUvarint(r)
	if err != nil {
		return s, false
	}
	tail, err := binary.ReadUvarint(r)
	if err != nil {
		return s, false
	}
	if from == 1 {
		before = present
	}
	if head > uint64(len(before)) || tail > uint64(len(before))-head {
		return s, false
	}
	between, err := io.ReadAll(io.LimitReader(flate.NewReader(r), draft.MaxTextBytes+1))
	if err != nil || len(between)+int(head+tail) > draft.MaxTextBytes {
		return s, false
	}
	text := slices.Concat(before[:head], between, before[uint64(len(before))-tail:])
	return pastStep{int(from), strings.ToValidUTF8(string(name), ""), text}, true
}
