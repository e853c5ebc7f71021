package shedspace

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/model/actions"
	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/solver"
)

// spaces are the search problems of the shipped examples, narrow and with more freedom.
func spaces(t *testing.T) map[string]*Problem {
	t.Helper()
	out := map[string]*Problem{}
	for _, name := range []string{"packhouse", "kit", "barn"} {
		b, err := brief.ReadFile("../../experiments/briefs/" + name + ".yaml")
		if err != nil {
			t.Fatal(err)
		}
		out[name] = unbenched(t, b)
		wide := *b
		f := &wide.Freedoms
		all := []brief.Pattern{brief.NoBracing, brief.CrossedRods, brief.SingleStrut, brief.TwoTier, brief.VBrace, brief.InvertedV, brief.KneeBrace, brief.PortalisedBay}
		f.Symmetric, f.OneOuterSize, f.EndFramesDiffer, f.Bracing.SameType, f.Bracing.SameBay = false, false, true, false, false
		f.Bracing.South, f.Bracing.North, f.Props.MaxLines, f.Props.Add = all, all, 3, true
		out[name+", wide"] = unbenched(t, &wide)
	}
	return out
}

// unbenched is a problem whose points can be decoded but not judged: it needs no actions.
func unbenched(t *testing.T, b *brief.Brief) *Problem {
	t.Helper()
	s, err := shed.FromBrief(b)
	if err != nil {
		t.Fatal(err)
	}
	drawn, err := s.Proposal(b.Library().Find)
	if err != nil {
		t.Fatal(err)
	}
	p := &Problem{Brief: b, Shed: s, Drawn: drawn}
	if err := p.buildGenes(); err != nil {
		t.Fatal(err)
	}
	return p
}

func randomPoint(p *Problem, rng *rand.Rand) []int {
	point := make([]int, len(p.genes))
	for i := range p.genes {
		point[i] = rng.IntN(p.genes[i].Count())
	}
	return point
}

// TestDecodeIsExact: any point decodes; repairing a repaired point changes nothing; equal keys have equal repaired points;
// and what was decoded is found again by Encode.
func TestDecodeIsExact(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 32))
	for name, p := range spaces(t) {
		byKey := map[string][]int{}
		for range 300 {
			point := randomPoint(p, rng)
			key, repaired := p.Canonical(point)
			again, twice := p.Canonical(repaired)
			if again != key || !slices.Equal(repaired, twice) {
				t.Fatalf("%s: %v repairs to %v (%s), and that to %v (%s)", name, point, repaired, key, twice, again)
			}
			if other, ok := byKey[key]; ok && !slices.Equal(other, repaired) {
				t.Fatalf("%s: %s has the points %v and %v", name, key, other, repaired)
			}
			byKey[key] = repaired
			d, _ := p.Decode(point)
			if back, ok := p.Encode(d); !ok || !slices.Equal(back, repaired) {
				t.Fatalf("%s: %s is encoded as %v, decoded from %v", name, key, back, repaired)
			}
		}
	}
}

// TestDecodedStaysClear builds random variants of every example: no brace, strut, portal member or prop is inside an opening,
// and nothing that the search places is inside a clear zone.
func TestDecodedStaysClear(t *testing.T) {
	rng := rand.New(rand.NewPCG(33, 34))
	for name, p := range spaces(t) {
		for range 60 {
			d, _ := p.Decode(randomPoint(p, rng))
			m := p.Shed.Build(d)
			if what := intruder(m); what != "" {
				t.Fatalf("%s: %s in %s", name, what, p.Key(d))
			}
		}
	}
}

// intruder walks along what bracing and props a model has, and names the first piece inside an opening or a clear zone.
func intruder(m *shed.Model) string {
	st := &m.Structure
	for i := range st.Elements {
		e := &st.Elements[i]
		mem := &st.Members[e.Member]
		switch mem.Role {
		case solver.RoleWallBrace, solver.RoleStrut, solver.RoleProp, solver.RoleRoofBrace:
		default:
			continue
		}
		a, b := st.Nodes[e.I].Pos, st.Nodes[e.J].Pos
		for k := range 41 {
			x := r3.Add(a, r3.Scale(float64(k)/40, r3.Sub(b, a)))
			if what := blocks(m.Shed, x); what != "" {
				return fmt.Sprintf("%s is inside %s at %.2v", mem.ID, what, x)
			}
		}
	}
	return ""
}

// blocks names the opening or clear zone that a point is inside of; edges are outside.
func blocks(s *shed.Shed, x r3.Vec) string {
	const edge = 1e-6
	last := s.Frames[len(s.Frames)-1]
	for _, o := range s.Building.Openings {
		u, off := x.X, 0.0
		switch o.Face {
		case actions.SouthWall:
			off = x.Y
		case actions.NorthWall:
			off = x.Y - s.Span
		case actions.WestGable:
			u, off = x.Y, x.X
		case actions.EastGable:
			u, off = x.Y, x.X-last
		}
		if off > -edge && off < edge && u > o.U0+edge && u < o.U1-edge && x.Z > o.V0+edge && x.Z < o.V1-edge {
			return o.Name
		}
	}
	for _, z := range s.ClearZones() {
		if x.X > z.X0+edge && x.X < z.X1-edge && x.Y > z.Y0+edge && x.Y < z.Y1-edge && x.Z < z.Height-edge {
			return z.Name
		}
	}
	return ""
}

// TestRandomBriefsStayClear does the same for random sheds with doors, windows, a floor and a lane.
func TestRandomBriefsStayClear(t *testing.T) {
	rng := rand.New(rand.NewPCG(35, 36))
	read := 0
	for range 40 {
		b, err := brief.Read("random.yaml", strings.NewReader(randomBrief(rng)))
		if err != nil {
			continue // its openings clash: the reader refuses it
		}
		read++
		p := unbenched(t, b)
		for range 15 {
			point := randomPoint(p, rng)
			d, repaired := p.Decode(point)
			if _, twice := p.Decode(repaired); !slices.Equal(repaired, twice) {
				t.Fatalf("%v repairs to %v and that to %v", point, repaired, twice)
			}
			if what := intruder(p.Shed.Build(d)); what != "" {
				t.Fatalf("%s in %s", what, p.Key(d))
			}
		}
	}
	if read < 15 {
		t.Errorf("only %d of 40 random briefs were sound: the test shows little", read)
	}
}

// randomBrief writes a shed with openings in its long walls, a floor along the south wall and a lane across.
func randomBrief(rng *rand.Rand) string {
	var b strings.Builder
	bays := 3 + rng.IntN(3)
	bay := 4 + float64(rng.IntN(20))/10
	lines := []string{"0"}
	for i := range bays {
		lines = append(lines, fmt.Sprintf("%.1f", bay*float64(i+1)))
	}
	span := 9 + float64(rng.IntN(80))/10
	fmt.Fprintf(&b, `name: random
site: {region: A2, terrain: 2.5, importance: 2, bearing: 0, hazard: 0.08, soil: Ce}
building: {frame_lines: [%s], span: %.1f, roof: gable, eaves: %.1f, rise: 1.2}
openings:
`, strings.Join(lines, ", "), span, 3.6+float64(rng.IntN(20))/10)
	for _, wall := range []string{"south", "north"} {
		for i := range bays {
			at := bay*float64(i) + 0.3 + rng.Float64()
			switch rng.IntN(4) {
			case 0:
				fmt.Fprintf(&b, "  - {kind: roller door, wall: %s, at: %.2f, width: %.2f, height: 3}\n", wall, at, 1+rng.Float64())
			case 1:
				fmt.Fprintf(&b, "  - {kind: window, wall: %s, at: %.2f, width: %.2f, sill: 1, height: 1}\n", wall, at, 1+rng.Float64())
			case 2:
				fmt.Fprintf(&b, "  - {kind: personnel door, wall: %s, at: %.2f, width: 0.9, height: 2.1}\n", wall, at)
			}
		}
	}
	lane := bay + 0.3
	fmt.Fprintf(&b, `  - {kind: window, wall: west, at: 0.5, width: 1, sill: 1, height: 1}
mezzanines:
  - {name: loft, x: [0, %.1f], y: [0, 3], level: 2.6, use: office, permanent: 0.5, share_props: %v, props_on_beams: %v}
clear:
  - {name: lane, x: [%.2f, %.2f], y: [%.1f, %.1f], height: 3, lane: true}
proposal:
  sections: {column: 250x150x6.0RHS, rafter: 250x150x6.0RHS, mezzanine beam: 200PFC22.9, post: 89x89x3.5SHS, eaves strut: 89x89x3.5SHS, ridge strut: 89x89x3.5SHS}
  struts: {eaves: true, ridge: true}
freedoms: {breadth: %s}
`, bay, rng.IntN(2) == 0, rng.IntN(2) == 0, lane, lane+bay, span*rng.Float64()/2, span*(1+rng.Float64())/2, []string{"narrow", "wide"}[rng.IntN(2)])
	return b.String()
}

// TestWallGround: the least brace steel of the packhouse's south wall is that of its best single diagonal, bay 5's falling
// one, clear of the personnel door: H(b²+h²)/b over b = 5.0 m, h = 5.2 m, 10.408·H; bay 4's is 58.4/5.6 = 10.429·H, and two
// tiers or a V take more there.
func TestWallGround(t *testing.T) {
	p := spaces(t)["packhouse"]
	g, forces := p.wallGround(0, 20e3)
	got, _, err := g.LeastVolume(forces)
	if err != nil {
		t.Fatal(err)
	}
	if want := 20e3 * (25 + 27.04) / 5; got > want*1.0001 || got < want*0.9999 {
		t.Errorf("least Σ L|N| %.0f N·m, by hand %.0f", got, want)
	}
}

// TestEveryNeededLinkIsDiagnosed takes one link after another out of random variants that lack none: each time the reading of
// the load path says what is missing, or for one wall of two, that it has no line of its own.
func TestEveryNeededLinkIsDiagnosed(t *testing.T) {
	rng := rand.New(rand.NewPCG(37, 38))
	for name, p := range spaces(t) {
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
				{"both walls", true, func(e *shed.Design) { e.Walls = [2][]shed.Brace{} }},
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
		if whole == 0 {
			t.Errorf("%s: no variant was whole: the test shows nothing", name)
		}
	}
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
