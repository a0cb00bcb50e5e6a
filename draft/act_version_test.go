package draft

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"hemlet/geom"
)

func TestKeepVersion(t *testing.T) {
	p := bodice()
	p.Pieces[1].Locked = true
	out := mustDo(t, p, "keep-version", "name=first toile")
	v := out.Project.Version(out.Made)
	if v == nil || v.Name != "first toile" || len(v.Pieces) != len(p.Pieces) || len(v.Seams) != len(p.Seams) {
		t.Fatalf("kept %+v", v)
	}
	if err := Validate(out.Project); err != nil {
		t.Fatal(err)
	}
	for i, was := range v.Pieces {
		if Revision(was) != Revision(p.Pieces[i]) || was.Cloth != "" || was.Locked {
			t.Errorf("%s is kept as %+v", was.Name, was)
		}
	}
	q := mustDo(t, out.Project, "move-nodes", "nodes="+string(p.Pieces[0].ID)+"."+string(p.Pieces[0].Edges[0].Nodes[0].ID), "by=0mm,3mm").Project
	if q.Version(v.ID) != v {
		t.Error("a version changes with the pattern")
	}
	old := q.AsOf(v)
	if cmp.Diff(old.Pieces[0].Edges, p.Pieces[0].Edges) != "" || old.Pieces[0].Cloth != p.Pieces[0].Cloth {
		t.Error("the pattern as it was is another")
	}
}

func TestVersionsHaveNamesOfTheirOwn(t *testing.T) {
	p := mustDo(t, bodice(), "keep-version").Project
	p = mustDo(t, p, "keep-version", "follows=Version 1").Project
	if p.Versions[0].Name != "Version 1" || p.Versions[1].Name != "Version 2" || p.Versions[1].Follows != p.Versions[0].ID || p.LastVersion() != p.Versions[1] {
		t.Fatalf("%+v, %+v", p.Versions[0], p.Versions[1])
	}
	mustRefuse(t, p, "called version 2 already", "keep-version", "name=version 2")
	mustRefuse(t, p, "called Version 2 already", "rename-version", "version=Version 1", "name=Version 2")
	mustRefuse(t, p, "the name is empty", "rename-version", "version=Version 1", "name= ")
	mustRefuse(t, p, "delete Version 2 first", "delete-version", "version=Version 1")
	mustRefuse(t, p, "there is no version", "keep-version", "follows=Version 3")
	p = mustDo(t, p, "rename-version", "version=Version 2", "name=second toile").Project
	p = mustDo(t, p, "delete-version", "version=second toile").Project
	p = mustDo(t, p, "delete-version", "version=Version 1").Project
	if len(p.Versions) != 0 || p.LastVersion() != nil {
		t.Errorf("%d are left", len(p.Versions))
	}
	mustRefuse(t, New("empty"), "no piece to keep", "keep-version")
}

func TestVersionsThatMakeNoSense(t *testing.T) {
	p := mustDo(t, bodice(), "keep-version").Project
	p = mustDo(t, p, "keep-version", "follows=Version 1").Project
	change := func(f func(v *Version)) *Project {
		q := p.shallow()
		first := *p.Versions[0]
		f(&first)
		q.Versions = []*Version{&first, p.Versions[1]}
		return q
	}
	for says, f := range map[string]func(v *Version){
		"no such version before it": func(v *Version) { v.Follows = v.ID },
		"it follows":                func(v *Version) { v.Follows = "v99999" },
		"has a cloth": func(v *Version) {
			bad := v.Pieces[0].clone()
			bad.Cloth = "c1"
			v.Pieces = append([]*Piece{bad}, v.Pieces[1:]...)
		},
		"seam": func(v *Version) {
			run := Run{{Piece: "gone", Copy: CopyRef{Number: 1}, Edge: "gone.side"}}
			v.Seams = []*Seam{{ID: "s99", Ratio: 1, To: 1, A: run, B: run}}
		},
		"lie within": func(v *Version) {
			bad := v.Pieces[0].clone()
			bad.Edges[0].Nodes[0].At = geom.Pt(1e9, 0)
			v.Pieces = append([]*Piece{bad}, v.Pieces[1:]...)
		},
	} {
		if err := Validate(change(f)); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v", says, err)
		}
	}
}
