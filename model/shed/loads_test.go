package shed

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/model/actions"
	"leanbay/model/brief"
	"leanbay/solver"
)

// anyBrief writes a random sound brief: gable or mono-pitch, uneven bays, mullions, one floor now and then.
func anyBrief(rng *rand.Rand) string {
	var b strings.Builder
	lines := []string{"0"}
	x := 0.0
	for range 2 + rng.IntN(4) {
		x += math.Round((3+3*rng.Float64())*10) / 10
		lines = append(lines, fmt.Sprintf("%.1f", x))
	}
	span := math.Round((7+10*rng.Float64())*10) / 10
	roof := "roof: gable"
	if rng.IntN(2) == 0 {
		roof = "roof: mono-pitch\n  high_side: " + []string{"south", "north"}[rng.IntN(2)]
	}
	fmt.Fprintf(&b, `name: random
site: {region: A2, terrain: 2.5, importance: 2, bearing: %d, hazard: 0.08, soil: Ce}
building:
  frame_lines: [%s]
  span: %.1f
  %s
  eaves: %.1f
  rise: %.1f
proposal:
  sections: {column: 250x150x6.0RHS, rafter: 250x150x6.0RHS, mullion: 150x100x4.0RHS, mezzanine beam: 200PFC22.9, post: 89x89x3.5SHS, eaves strut: 89x89x3.5SHS, ridge strut: 89x89x3.5SHS, node strut: 89x89x3.5SHS, wall rod: R16, roof rod: R16}
  mullions: {west: [%.1f], east: [%.1f, %.1f]}
  struts: {eaves: true, ridge: true, nodes: true}
  wall_bracing: [{wall: south, bay: 1, pattern: crossed rods}, {wall: north, bay: 1, pattern: crossed rods}]
  roof_bracing: [{bay: 1, pattern: crossed rods}]
`, rng.IntN(360), strings.Join(lines, ", "), span, roof, 3+3*rng.Float64(), 0.5+1.5*rng.Float64(), span*0.45, span*0.3, span*0.6)
	return b.String()
}

// read makes a shed of a brief's text.
func read(t *testing.T, text string) *Shed {
	t.Helper()
	b, err := brief.Read("random.yaml", strings.NewReader(text))
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	s, err := FromBrief(b)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// TestPressureTimesArea: whatever the shed, spacing and pattern of pressures, the loads on members sum to the force of
// the patches (computed by clipping polygons, another way than the strips), in force and, for the global moment, within
// what a strip moves its load: from its place to its purlin or girt line.
func TestPressureTimesArea(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 12))
	for range 40 {
		s := read(t, anyBrief(rng))
		c := actions.Case{ID: "random", Kind: solver.KindWindUltimate}
		var want r3.Vec
		for f := actions.SouthWall; f < actions.NumFaces; f++ {
			if s.Building.Outline(f) == nil {
				continue
			}
			u0, u1, v0, v1 := s.Building.Extent(f)
			cut := u0 + (u1-u0)*rng.Float64()
			for _, p := range []actions.Patch{
				{Face: f, U0: u0, U1: cut, V0: v0, V1: v1, Pressure: 1e3 * rng.NormFloat64(), Traction: r3.Vec{X: 30 * rng.NormFloat64()}},
				{Face: f, U0: cut, U1: u1, V0: v0, V1: v1, Pressure: 1e3 * rng.NormFloat64(), Traction: r3.Vec{Z: -200 * rng.Float64()}, PlanArea: true},
			} {
				c.Patches = append(c.Patches, p)
				force, _ := s.Building.PatchForce(p)
				want = r3.Add(want, force)
			}
		}
		l := s.NewLoads([]actions.Case{c}, nil, 0.9+rng.Float64(), 0.9+rng.Float64(), SecondaryMass{})
		var got r3.Vec
		size := 0.0
		for _, p := range l.Cases[0].Point {
			got = r3.Add(got, p.F)
			size += r3.Norm(p.F)
		}
		if d := r3.Norm(r3.Sub(got, want)); d > 1e-9*size {
			t.Fatalf("loads sum to %v, patches to %v (%g apart)", got, want, d)
		}
	}
}

// TestSelfWeightOfLines: purlins and girts weigh length times mass per metre.
func TestSelfWeightOfLines(t *testing.T) {
	s := read(t, anyBrief(rand.New(rand.NewPCG(5, 6))))
	l := s.NewLoads([]actions.Case{{ID: "G", Kind: solver.KindPermanent, SelfWeight: true}}, nil, 1.2, 1.2, SecondaryMass{Purlin: 4, Girt: 3})
	got := 0.0
	for _, p := range l.Cases[0].Point {
		got -= p.F.Z
	}
	want := brief.Gravity * (4*lineLength(s.purlinLines(1.2)) + 3*lineLength(s.girtLines(1.2)))
	if math.Abs(got-want) > 1e-9*want {
		t.Errorf("lines weigh %g N, length times mass %g N", got, want)
	}
}

// TestSideways: a notional case is its fraction of the weight it names, along its direction; height and eccentricity move
// the resultant but not its size.
func TestSideways(t *testing.T) {
	s := read(t, anyBrief(rand.New(rand.NewPCG(7, 8))))
	d, err := s.Proposal(s.brief.Library().Find)
	if err != nil {
		t.Fatal(err)
	}
	roof := actions.Patch{Face: actions.SouthRoof, Traction: r3.Vec{Z: -500}}
	roof.U0, roof.U1, roof.V0, roof.V1 = s.Building.Extent(actions.SouthRoof)
	dir := r3.Vec{Y: 1}
	cases := []actions.Case{
		{ID: "G", Kind: solver.KindPermanent, SelfWeight: true, Patches: []actions.Patch{roof}},
		{ID: "H", Kind: solver.KindNotional, Direction: dir, Fraction: 0.002, Shares: []actions.Share{{Case: "G", Factor: 1}}},
		{ID: "E", Kind: solver.KindEarthquake, Direction: dir, Fraction: 0.1, Offset: 0.1, HeightPower: 1, Shares: []actions.Share{{Case: "G", Factor: 1}}},
		{ID: "E0", Kind: solver.KindEarthquake, Direction: dir, Fraction: 0.1, HeightPower: 1, Shares: []actions.Share{{Case: "G", Factor: 1}}},
	}
	m := s.Build(d)
	m.Load(s.NewLoads(cases, nil, 1.2, 1.2, SecondaryMass{}), 0)
	force, _ := s.Building.PatchForce(roof)
	weight := -force.Z
	for k := range m.Structure.Members {
		weight += m.memberWeight(k)
	}
	h, _ := sumSideways(m, 1)
	if math.Abs(h.Y-0.002*weight) > 1e-9*weight || h.X != 0 || h.Z != 0 {
		t.Errorf("notional force %v N of a weight of %g N", h, weight)
	}
	e, at := sumSideways(m, 2)
	_, centre := sumSideways(m, 3)
	if math.Abs(e.Y-0.1*weight) > 1e-9*weight {
		t.Errorf("earthquake force %v N of a weight of %g N", e, weight)
	}
	if shift := math.Abs(at.X - centre.X); math.Abs(shift-0.1*s.length()) > 1e-6 {
		t.Errorf("the force moved %g m along X, a tenth of the length is %g m", shift, 0.1*s.length())
	}
}

// sumSideways is the resultant of a case and the place of its line of action.
func sumSideways(m *Model, c int) (f, at r3.Vec) {
	add := func(v, p r3.Vec) {
		f = r3.Add(f, v)
		at = r3.Add(at, r3.Scale(v.Y, p))
	}
	for _, p := range m.Structure.Cases[c].Point {
		add(p.F, m.place(p.Member, p.At))
	}
	for _, l := range m.Structure.Cases[c].Line {
		add(r3.Scale(l.To-l.From, l.Q1), m.place(l.Member, (l.From+l.To)/2))
	}
	return f, r3.Scale(1/f.Y, at)
}
