package main

import (
	"fmt"

	"hemlet/draft"
	"hemlet/draft/trim"
)

type ruffleVerb struct {
	Edge       length  `required:"" placeholder:"LENGTH" help:"How long the edge is that the ruffle is sewn to."`
	Ratio      float64 `required:"" help:"How many times as long as the edge the flat ruffle is: 1.5 for firm cotton, up to 3 for sheers."`
	ClothWidth length  `required:"" placeholder:"LENGTH" help:"The usable width of the cloth, between its selvedges."`
	Closed     bool    `help:"The ruffle is a ring, its last strip joined to its first."`
	Join       length  `default:"0mm" placeholder:"LENGTH" help:"What a join takes off each of the two strips."`
	End        length  `default:"0mm" placeholder:"LENGTH" help:"What is turned under at each end of an open ruffle."`
	JSON       bool    `name:"json" help:"Print the facts as JSON; lengths are in mm."`
}

// ruffleFacts is a ruffle as scripts read it.
type ruffleFacts struct {
	Flat   float64 `json:"flat_length_mm"`
	Strips int     `json:"strips"`
	Joins  int     `json:"joins"`
	Strip  float64 `json:"strip_length_mm"`
}

// Run prints how a ruffle is pieced.
func (v *ruffleVerb) Run(t *terminal) error {
	if v.ClothWidth <= 0 {
		return fmt.Errorf("--cloth-width: the cloth is wider than nothing; give the width between its selvedges")
	}
	s, err := trim.Ruffle{
		Edge: float64(v.Edge), Ratio: v.Ratio, ClothWidth: float64(v.ClothWidth),
		Join: float64(v.Join), Closed: v.Closed, End: float64(v.End),
	}.Strips()
	if err != nil {
		return fmt.Errorf("ruffle: %w", err)
	}
	if v.JSON {
		return t.json(ruffleFacts{s.Flat, s.Count, s.Joins, s.Length})
	}
	u := draft.Millimetre
	t.printf("%s flat: %s, each cut %s long, %s\n", u.Format(s.Flat), count(s.Count, "strip"), u.Format(s.Length), count(s.Joins, "join"))
	return nil
}
