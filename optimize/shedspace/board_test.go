package shedspace

import (
	"math/rand/v2"
	"reflect"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/model/shed"
)

// TestBoardBuildsTheSame: designs of many layouts, each with several choices of sections, in random order on one board: every model
// with its loads is that of shed.Build, field by field and bit by bit.
func TestBoardBuildsTheSame(t *testing.T) {
	for seed, name := range []string{"kit", "barn", "packhouse"} {
		p := example(t, name)
		rng := rand.New(rand.NewPCG(61, uint64(seed)))
		var points [][]int
		for _, pt := range wander(t, p, 20, rng) {
			for range 3 {
				points = append(points, append([]int(nil), pt...))
				for i := range pt {
					if p.genes[i].groups != nil {
						pt[i] = rng.IntN(p.genes[i].Count())
					}
				}
			}
		}
		j, again := newJudge(p), 0
		j.brief = true
		for range 2 {
			for _, i := range rng.Perm(len(points)) {
				d, _ := p.Decode(points[i])
				before := len(j.board.kept)
				got, want := j.model(d, p.setupOf(d)), p.loaded(d)
				if len(j.board.kept) == before {
					again++
				}
				listed(got)
				listed(want)
				if !reflect.DeepEqual(got, want) {
					t.Fatalf("%s: %s: the board's model differs from what Build makes", name, p.Key(d))
				}
			}
		}
		if again < len(points) {
			t.Errorf("%s: only %d of %d models were of layouts that stood on the board: the test shows little", name, again, 2*len(points))
		}
	}
}

// listed puts the forces of the table into the cases' lists, and makes empty lists nil.
func listed(m *shed.Model) {
	st := &m.Structure
	for i := range st.Cases {
		c := &st.Cases[i]
		c.Point = append(st.PointsOf(i, nil), c.Point...)
		c.Column, c.Pushes, c.Along = 0, nil, r3.Vec{}
		if len(c.Nodal) == 0 {
			c.Nodal = nil
		}
		if len(c.Line) == 0 {
			c.Line = nil
		}
		if len(c.Point) == 0 {
			c.Point = nil
		}
	}
	st.Table = nil
}

// TestBoardForgets: a board keeps no more than its bound, the layouts asked for last.
func TestBoardForgets(t *testing.T) {
	p := example(t, "kit")
	d, err := p.Sturdy()
	if err != nil {
		t.Fatal(err)
	}
	var b board
	var seen []*shed.Model
	at := func(i int) *shed.Model {
		e := *d
		e.PurlinSpacing += float64(i) / 1e3
		return b.model(p.Shed, &e)
	}
	for i := range keptLayouts {
		seen = append(seen, at(i))
	}
	if at(0) != seen[0] {
		t.Error("a layout was not kept")
	}
	if at(keptLayouts); len(b.kept) != keptLayouts {
		t.Errorf("%d layouts are kept, the bound is %d", len(b.kept), keptLayouts)
	}
	if at(0) != seen[0] || at(1) == seen[1] {
		t.Error("not the layout was forgotten that was not asked for longest")
	}
}

// TestBoardOfAnotherShed: the model of a design of another shed is that shed's.
func TestBoardOfAnotherShed(t *testing.T) {
	p := example(t, "kit")
	d, err := p.Sturdy()
	if err != nil {
		t.Fatal(err)
	}
	other, err := shed.FromBrief(p.Brief)
	if err != nil {
		t.Fatal(err)
	}
	var b board
	for _, s := range []*shed.Shed{p.Shed, other, p.Shed} {
		if m := b.model(s, d); m.Shed != s {
			t.Error("the model of another shed was taken")
		}
	}
}
