package draft

import (
	"sync"

	"hemlet/geom/warp"
)

// fitBasis is what can be told of a source by itself, whoever it is fitted to: its pieces
// with the points of their outlines, and what their spans measure.
type fitBasis struct {
	source *Source
	// project holds the source, so that what measures a project measures it.
	project *Project
	m       *matching
	joints  []warp.Joint
	// was are the lengths of the spans in mm, by piece in order and span in order.
	was map[fitPart]float64
}

// recentBases keeps what was told of sources last: every change of a wearer or a target
// asks for the same again.
var recentBases struct {
	sync.Mutex
	list []*fitBasis
}

// maxRecentBases is how many are kept: the fits of a project and of one beside it.
const maxRecentBases = 16

// basisOf returns what is told of a source.
func basisOf(source *Source) *fitBasis {
	recentBases.Lock()
	defer recentBases.Unlock()
	for i, b := range recentBases.list {
		if b.source == source {
			recentBases.list = append(append(recentBases.list[:i:i], recentBases.list[i+1:]...), b)
			return b
		}
	}
	b := newFitBasis(source)
	if len(recentBases.list) >= maxRecentBases {
		recentBases.list = recentBases.list[1:]
	}
	recentBases.list = append(recentBases.list, b)
	return b
}

func newFitBasis(source *Source) *fitBasis {
	b := &fitBasis{source: source, was: make(map[fitPart]float64)}
	b.project = &Project{NextID: 1, Pieces: source.Pieces, Seams: source.Seams}
	b.m = newMatching(b.project)
	slots := NewSlots()
	for _, piece := range source.Pieces {
		b.m.take(piece)
		for _, span := range piece.Spans {
			b.was[fitPart{piece.ID, span.ID}] = slots.SpanLength(piece, span)
		}
	}
	b.joints = b.linesAcross()
	return b
}
