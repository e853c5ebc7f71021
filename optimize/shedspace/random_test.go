package shedspace

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/model/actions"
	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/solver"
	"leanbay/solver/frame"
)

// TestDecodedStaysClear builds random variants of every example: no brace, strut, portal member or prop is inside an opening,
// and nothing that the search places is inside a clear zone or runs through the edge of a floor.
func TestDecodedStaysClear(t *testing.T) {
	rng := rand.New(rand.NewPCG(33, 34))
	for name, p := range spaces(t) {
		for range 60 {
			d, _ := p.Decode(randomPoint(p, rng))
			for side := range d.Walls {
				if slices.Equal(d.Walls[side], p.Drawn.Walls[side]) {
					d.Walls[side] = nil // what was drawn may be where the search would not put it
				}
			}
			if what := intruder(p.Shed.Build(d)); what != "" {
				t.Fatalf("%s: %s in %s", name, what, p.Key(d))
			}
		}
	}
}

// TestRandomBriefsStayClear does the same for random sheds: uneven bays, both roof shapes, open sides, mullions, doors and
// windows in all four walls, floors, zones, windows for props. What bracing adds also keeps the brief's clearance.
func TestRandomBriefsStayClear(t *testing.T) {
	rng := rand.New(rand.NewPCG(35, 36))
	seen := map[string]int{}
	for len(seen) == 0 || seen["brief"] < 40 {
		p := randomProblem(t, rng)
		if p == nil {
			continue
		}
		seen["brief"]++
		for range 25 {
			point := randomPoint(p, rng)
			d, repaired := p.Decode(point)
			if _, twice := p.Decode(repaired); !slices.Equal(repaired, twice) {
				t.Fatalf("%v repairs to %v and that to %v", point, repaired, twice)
			}
			m := p.Shed.Build(d)
			if what := intruder(m); what != "" {
				t.Fatalf("%s in %s", what, p.Key(d))
			}
			for side := range m.Walls {
				seen[shed.PlaneNames[side]] += len(m.Walls[side])
			}
			seen["props"] += len(m.Props)
		}
	}
	for _, what := range []string{"south wall", "north wall", "west gable", "east gable", "props"} {
		if seen[what] < 200 {
			t.Errorf("only %d pieces of %s were looked at: the test shows little", seen[what], what)
		}
	}
}

// intruder walks along what bracing and props a model has, and names the first piece inside an opening, a clear zone or the
// edge of a floor. Pieces that bracing adds in the walls also keep the brief's clearance.
func intruder(m *shed.Model) string {
	st := &m.Structure
	for i := range st.Elements {
		e := &st.Elements[i]
		mem := &st.Members[e.Member]
		margin := 0.0
		switch mem.Role {
		case solver.RoleWallBrace:
			margin = m.Shed.BraceClearance()
		case solver.RoleStrut, solver.RoleProp, solver.RoleRoofBrace:
		default:
			continue
		}
		a, b := st.Nodes[e.I].Pos, st.Nodes[e.J].Pos
		mid := r3.Scale(0.5, r3.Add(a, b))
		for k := range 41 {
			x := r3.Add(a, r3.Scale(float64(k)/40, r3.Sub(b, a)))
			if what := blocks(m.Shed, x, mid, margin, mem.Role); what != "" {
				return fmt.Sprintf("%s is inside %s at %.2v", mem.ID, what, x)
			}
		}
	}
	return ""
}

// blocks names the opening, clear zone or floor edge that a point of a piece, whose middle is mid, is inside of, those in its
// wall grown by a margin; edges are outside. Columns stand between a piece and what is in the bays beside its own.
func blocks(s *shed.Shed, x, mid r3.Vec, margin float64, role solver.Role) string {
	const edge = 1e-6
	last := s.Frames[len(s.Frames)-1]
	in := func(v, from, to, by float64) bool { return v > from-by+edge && v < to+by-edge }
	shares := func(u float64, us []float64, from, to float64) bool { // the bay of u
		k := 1
		for k < len(us)-1 && u > us[k] {
			k++
		}
		return from < us[k]-edge && to > us[k-1]+edge
	}
	for side, off := range []float64{x.Y, x.Y - s.Span, x.X, x.X - last} {
		if math.Abs(off) > edge {
			continue
		}
		u, of, face := x.X, mid.X, actions.SouthWall+actions.Face(side)
		if side >= longWalls {
			u, of = x.Y, mid.Y
		}
		for _, o := range s.Building.Openings {
			if o.Face == face && shares(of, s.Uprights(side), o.U0, o.U1) && in(u, o.U0, o.U1, margin) && in(x.Z, o.V0, o.V1, margin) {
				return o.Name
			}
		}
		if role != solver.RoleWallBrace {
			continue
		}
		for _, f := range s.Mezzanines {
			u0, u1, at := f.X0, f.X1, [2]float64{f.Y0, f.Y1}
			if side >= longWalls {
				u0, u1, at = f.Y0, f.Y1, [2]float64{f.X0, f.X1}
			}
			wall := []float64{0, s.Span, 0, last}[side]
			meets := math.Abs(at[0]-wall) < 1e-3 || math.Abs(at[1]-wall) < 1e-3
			if meets && shares(of, s.Uprights(side), u0, u1) && in(u, u0, u1, margin) && in(x.Z, f.Level-shed.FloorEdge, f.Level, margin) {
				return "the edge of " + f.Name
			}
		}
	}
	for _, z := range s.ClearZones() {
		if in(x.X, z.X0, z.X1, 0) && in(x.Y, z.Y0, z.Y1, 0) && x.Z < z.Height-edge {
			return z.Name
		}
		if s.Building.Open(actions.SouthWall) && math.Abs(x.Y) < edge && z.Y0 < edge && in(x.X, z.X0, z.X1, 0) && x.Z < z.Height-edge && role == solver.RoleWallBrace {
			return z.Name + ", which goes on through the open side"
		}
	}
	return ""
}

// randomProblem is the problem of a random brief; nil where its openings or zones clash and the reader refuses it.
func randomProblem(t *testing.T, rng *rand.Rand) *Problem {
	t.Helper()
	b, err := brief.Read("random.yaml", strings.NewReader(randomBrief(rng)))
	if err != nil {
		return nil
	}
	return unbenched(t, b)
}

// randomBrief writes a shed: 2 to 5 uneven bays, either roof shape, now and then an open south side, mullions, openings in all
// walls, a floor in a corner, one or two zones, and freedoms.
func randomBrief(rng *rand.Rand) string {
	var b strings.Builder
	between := func(lo, hi float64) float64 { return math.Round((lo+(hi-lo)*rng.Float64())*100) / 100 }
	pick := func(words ...string) string { return words[rng.IntN(len(words))] }
	xs := []float64{0}
	for range 2 + rng.IntN(4) {
		xs = append(xs, xs[len(xs)-1]+between(3.5, 6.5))
	}
	length, span, eaves := xs[len(xs)-1], between(8, 17), between(3.2, 5.8)
	roof := "gable"
	if rng.IntN(3) == 0 {
		roof = "mono-pitch, high_side: " + pick("south", "north")
	}
	open := ""
	if rng.IntN(5) == 0 {
		open = ", open_sides: [south]"
	}
	fmt.Fprintf(&b, "name: random\nsite: {region: A2, terrain: 2.5, importance: 2, bearing: 0, hazard: 0.08, soil: Ce}\n")
	fmt.Fprintf(&b, "building: {frame_lines: %s, span: %.2f, roof: %s, eaves: %.2f, rise: %.2f%s}\n", listOf(xs), span, roof, eaves, between(0.6, 1.8), open)
	mullions := [2][]float64{}
	for gable := range mullions {
		for k := range rng.IntN(4) {
			mullions[gable] = append(mullions[gable], span*float64(k+1)/4+between(-0.4, 0.4))
		}
	}
	b.WriteString("openings:\n")
	walls := map[string][]float64{"south": xs, "north": xs, "west": slices.Concat([]float64{0}, mullions[0], []float64{span}), "east": slices.Concat([]float64{0}, mullions[1], []float64{span})}
	for _, wall := range []string{"south", "north", "west", "east"} {
		us := walls[wall]
		if wall == "south" && open != "" {
			continue
		}
		for k := 1; k < len(us); k++ {
			width := us[k] - us[k-1]
			at := us[k-1] + between(0.2, width/2)
			room := us[k] - 0.2 - at
			if room < 0.7 {
				continue
			}
			switch rng.IntN(5) {
			case 0:
				fmt.Fprintf(&b, "  - {kind: roller door, wall: %s, at: %.2f, width: %.2f, height: %.2f}\n", wall, at, between(0.6, room), between(2.2, eaves-0.6))
			case 1:
				fmt.Fprintf(&b, "  - {kind: window, wall: %s, at: %.2f, width: %.2f, sill: %.2f, height: 0.9}\n", wall, at, between(0.6, room), between(0.8, eaves-1.3))
			case 2:
				fmt.Fprintf(&b, "  - {kind: personnel door, wall: %s, at: %.2f, width: %.2f, height: 2.1}\n", wall, at, math.Min(0.9, room))
			}
		}
	}
	bay := 1 + rng.IntN(len(xs)-1)
	y := [2]float64{0, between(2.5, span/2)}
	if rng.IntN(2) == 0 {
		y = [2]float64{span - between(2.5, span/2), span}
	}
	if rng.IntN(3) > 0 {
		fmt.Fprintf(&b, "mezzanines:\n  - {name: loft, x: [%.2f, %.2f], y: [%.2f, %.2f], level: 2.5, use: office, permanent: 0.5, share_props: %v, props_on_beams: %v}\n",
			xs[bay-1], xs[bay], y[0], y[1], rng.IntN(2) == 0, rng.IntN(2) == 0)
	}
	b.WriteString("clear:\n")
	for k := range 1 + rng.IntN(2) {
		x0, y0 := between(0, length/2), between(0, span/2)
		if rng.IntN(2) == 0 {
			y0 = 0
		}
		fmt.Fprintf(&b, "  - {name: zone %d, x: [%.2f, %.2f], y: [%.2f, %.2f], height: %.2f, lane: true}\n", k+1, x0, x0+between(2, length/2), y0, y0+between(2, span/2), between(2.1, eaves-0.4))
	}
	fmt.Fprintf(&b, `proposal:
  sections: {column: 250x150x6.0RHS, rafter: 250x150x6.0RHS, mullion: 150x100x4.0RHS, mezzanine beam: 200PFC22.9, post: 89x89x3.5SHS, eaves strut: 89x89x3.5SHS, ridge strut: 89x89x3.5SHS}
  struts: {eaves: true, ridge: true}
  mullions: {west: %s, east: %s}
freedoms:
  breadth: %s
  props: {step: 250 mm, max_lines: 2%s}
  bracing: {max_bays: %d, same_type: %v, same_bay: %v, clearance: %d, south: %s, north: %s, west: %s, east: %s}
`, listOf(mullions[0]), listOf(mullions[1]), pick("narrow", "wide"), pick("", fmt.Sprintf(", windows: [[%.2f, %.2f]]", span*0.3, span*0.8)),
		1+rng.IntN(3), rng.IntN(2) == 0, rng.IntN(2) == 0, 50*rng.IntN(4), anyWall, anyWall, anyGable, anyGable)
	return b.String()
}

// Every pattern that walls and gables may have, in the brief's words.
const (
	anyWall  = "[none, crossed rods, single diagonal, two-tier, V, inverted V, knee braces, portalised bay]"
	anyGable = "[none, crossed rods, single diagonal, two-tier, V, inverted V]"
)

func listOf(vs []float64) string {
	var out []string
	for _, v := range vs {
		out = append(out, fmt.Sprintf("%.2f", v))
	}
	return "[" + strings.Join(out, ", ") + "]"
}

// TestEveryNeededLinkIsDiagnosed takes one link after another out of random variants that lack none: each time the reading of
// the load path says what is missing, or for one wall of two, that it has no line of its own.
func TestEveryNeededLinkIsDiagnosed(t *testing.T) {
	rng := rand.New(rand.NewPCG(37, 38))
	all := spaces(t)
	for i := 0; i < 25; {
		if p := randomProblem(t, rng); p != nil {
			all[fmt.Sprintf("random brief %d", i)] = p
			i++
		}
	}
	shown := 0
	for name, p := range all {
		whole := 0
		for range 60 {
			d, _ := p.Decode(randomPoint(p, rng))
			d.Struts = brief.Struts{Eaves: true, Ridge: true, Nodes: true}
			if len(d.Walls[0]) == 0 || len(d.Walls[1]) == 0 || missing(p.Shed.Build(d).Findings) > 0 {
				continue
			}
			whole++
			rods := d.RoofPattern == ""
			for _, link := range []struct {
				name   string
				needed bool
				remove func(e *shed.Design)
			}{
				{"both walls", true, func(e *shed.Design) { e.Walls = [4][]shed.Brace{} }},
				{"the roof bracing", true, func(e *shed.Design) { e.Roof = nil }},
				{"the eaves struts", true, func(e *shed.Design) { e.Struts.Eaves = false }},
				{"the ridge strut", rods && p.Shed.HasRidge(), func(e *shed.Design) { e.Struts.Ridge = false }},
				{"the node struts", rods && offRidge(p.Shed), func(e *shed.Design) { e.Struts.Nodes = false }},
			} {
				e := *d
				link.remove(&e)
				if link.needed && missing(p.Shed.Build(&e).Findings) == 0 {
					t.Fatalf("%s: without %s nothing is said to be missing in %s", name, link.name, p.Key(&e))
				}
			}
			for side, word := range []string{"south wall has no longitudinal line", "north wall has no longitudinal line"} {
				e := *d
				e.Walls[side] = nil
				said := slices.ContainsFunc(p.Shed.Build(&e).Findings, func(f shed.Finding) bool { return strings.Contains(f.Text, word) })
				if !said {
					t.Fatalf("%s: wall %d is bare and nobody says so in %s", name, side, p.Key(&e))
				}
			}
		}
		if whole == 0 && !strings.HasPrefix(name, "random") {
			t.Errorf("%s: no variant was whole: the test shows nothing", name)
		}
		shown += whole
	}
	if shown < 500 {
		t.Errorf("only %d variants were whole: the test shows little", shown)
	}
}

// TestWhatLacksNothingStands: of random variants of random briefs, one whose load path is read as whole is no mechanism along
// the building, and one that is a mechanism along it has a link that is said to be missing. Frames push along the building
// at their eaves and ridge; rods work both ways here, so that only what is missing counts.
func TestWhatLacksNothingStands(t *testing.T) {
	rng := rand.New(rand.NewPCG(39, 40))
	stood, fell := 0, 0
	for briefs := 0; briefs < 25; {
		p := randomProblem(t, rng)
		if p == nil {
			continue
		}
		briefs++
		for range 12 {
			d, _ := p.Decode(randomPoint(p, rng))
			d.Struts.Eaves = rng.IntN(6) > 0
			m := p.Shed.Build(d)
			stands, why := standsAlong(t, m)
			switch lacks := missing(m.Findings); {
			case stands && lacks == 0:
				stood++
			case !stands && lacks > 0:
				fell++
			case !stands:
				t.Fatalf("%s: %s, and nothing is said to be missing", p.Key(d), why)
			}
		}
	}
	if stood < 20 || fell < 20 {
		t.Errorf("%d stood and %d fell: the test shows little", stood, fell)
	}
}

// standsAlong says whether a model resists a push along the building at the eaves of every frame, and if not, which
// mechanism it is.
func standsAlong(t *testing.T, m *shed.Model) (bool, string) {
	t.Helper()
	st := &m.Structure
	c := solver.Case{ID: "push"}
	for f := range m.Eaves {
		for _, n := range m.Eaves[f] {
			c.Nodal = append(c.Nodal, solver.NodalLoad{Node: n, F: r3.Vec{X: 1e3}})
		}
	}
	st.Cases = []solver.Case{c}
	combo := solver.Combination{ID: "push", State: solver.Strength, Terms: []solver.Term{{Case: 0, Factor: 1}}}
	st.Combinations = []solver.Combination{combo}
	model, err := frame.Compile(st)
	if err != nil {
		t.Fatal(err)
	}
	work := model.NewWorkspace()
	if err := work.Load(st); err != nil {
		t.Fatal(err)
	}
	res := &frame.Result{}
	if err := work.Analyse(&combo, frame.Linear, res); err != nil {
		t.Fatal(err)
	}
	if len(res.Mechanisms) > 0 {
		return false, res.Mechanisms[0].Text
	}
	return res.Stable, strings.Join(res.Notes, "; ")
}

func missing(fs []shed.Finding) int {
	n := 0
	for _, f := range fs {
		if f.Missing {
			n++
		}
	}
	return n
}

// offRidge says whether some mullion stands elsewhere than under the ridge.
func offRidge(s *shed.Shed) bool {
	return slices.ContainsFunc(slices.Concat(s.Mullions[0], s.Mullions[1]), func(y float64) bool { return y < s.RidgeY-0.01 || y > s.RidgeY+0.01 })
}
