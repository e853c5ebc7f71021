package shed

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/model/bracing"
	"leanbay/model/brief"
	"leanbay/solver"
	"leanbay/solver/frame"
)

// hinged is a shed whose frames have next to no stiffness in their joints, so that a braced gable alone holds its end: span
// 10 m, eaves 4 m, ridge 5 m above a mullion in the middle.
const hinged = `name: hinged
site: {region: A2, terrain: 2.5, importance: 2, bearing: 0, hazard: 0.08, soil: Ce}
building: {frame_lines: [0, 5], span: 10, roof: gable, eaves: 4, rise: 1}
proposal:
  sections: {column: 250x150x6.0RHS, rafter: 250x150x6.0RHS, mullion: 200x100x4.0RHS, eaves strut: 125x125x5.0SHS, node strut: 89x89x3.5SHS, ridge strut: 89x89x3.5SHS, wall rod: R16, roof rod: R16, wall diagonal: 89x89x3.5SHS}
  mullions: {west: [5], east: [5]}
  wall_bracing: [{wall: south, bay: 1, pattern: crossed rods}, {wall: north, bay: 1, pattern: crossed rods}%s]
  roof_bracing: [{bay: 1, pattern: crossed rods}]
  struts: {eaves: true, ridge: true, nodes: true}
  joints: {eaves: 0.5, ridge: 0.5}
`

// swayed analyses a design under a force across the building at the south eaves of both frames (linear, rods in tension only).
func swayed(t *testing.T, s *Shed, walls [planes][]Brace, push float64) (*Model, *frame.Result) {
	t.Helper()
	d, err := s.Proposal(s.brief.Library().Find)
	if err != nil {
		t.Fatal(err)
	}
	for side := westGable; side < planes; side++ {
		d.Walls[side] = walls[side]
	}
	m := s.Build(d)
	c := solver.Case{ID: "push"}
	for f := range s.Frames {
		c.Nodal = append(c.Nodal, solver.NodalLoad{Node: m.Eaves[f][0], F: r3.Vec{Y: push}})
	}
	res := answered(t, &m.Structure, c, walls)
	return m, res
}

// TestGableForces holds the forces in braced gables to statics. P = 10 kN towards +Y at the south eaves of each frame. The
// rafter brings it up to the ridge, over the mullion in the middle, pressed by P·√(1+0.2²) and lifting there by 0.2·P.
// The rising line from the foot of column A to the ridge (5 m, 5 m) takes P·√2; the mullion is pressed by P - 0.2·P. Towards -Y
// the falling line from the eaves (4 m) to the mullion's foot takes P·√41/5. An inverted V has its point on the rafter at
// 2.5 m, 4.5 m: a difference of its two forces of P over their slope, 2.5/√(2.5²+4.5²). Two tiers meet at 2 m: the upper
// diagonal, 5 m by 3 m, takes P·√34/5 and the lower one, 5 m by 2 m, P·√29/5.
func TestGableForces(t *testing.T) {
	const p = 10e3
	s := read(t, fmt.Sprintf(hinged, ""))
	vee := 2 * p * math.Hypot(2.5, 4.5) / 2.5 / 2
	for _, tt := range []struct {
		brace Brace
		push  float64
		want  map[string]float64
	}{
		{Brace{Pattern: bracing.CrossedRods}, p, map[string]float64{"wall rod/west/1/rising": p * math.Sqrt2, "mullion/west/Y5.00": -0.8 * p}},
		{Brace{Pattern: bracing.CrossedRods}, -p, map[string]float64{"wall rod/west/1/falling": p * math.Sqrt(41) / 5}},
		{Brace{Pattern: bracing.RisingStrut}, -p, map[string]float64{"wall diagonal/west/1/rising": -p * math.Sqrt2, "mullion/west/Y5.00": 0.8 * p}},
		{Brace{Pattern: bracing.TwoTierRods, Place: bracing.Place{Mid: 2}}, p, map[string]float64{"wall rod/west/1/upper rising": p * math.Sqrt(34) / 5, "wall rod/west/1/lower rising": p * math.Sqrt(29) / 5}},
	} {
		walls := [planes][]Brace{westGable: {tt.brace}, eastGable: {tt.brace}}
		m, r := swayed(t, s, walls, tt.push)
		for id, want := range tt.want {
			for _, end := range []string{"west", "east"} {
				id := strings.Replace(id, "west", end, 1)
				if got := force(t, m, r, id); math.Abs(got-want) > 0.03*math.Abs(want) {
					t.Errorf("%v under %+.0f N: %s carries %.0f N, by statics %.0f", tt.brace, tt.push, id, got, want)
				}
			}
		}
		along := 0.0
		for n := range m.Structure.Nodes {
			along += r.Reactions[6*n+int(solver.UY)]
		}
		if math.Abs(along+2*tt.push) > 0.1 {
			t.Errorf("%v: feet take %.0f N of %.0f", tt.brace, -along, 2*tt.push)
		}
	}
	m, r := swayed(t, s, [planes][]Brace{westGable: {{Pattern: bracing.InvertedV}}, eastGable: {{Pattern: bracing.InvertedV}}}, p)
	south, north := force(t, m, r, "wall diagonal/west/1/south"), force(t, m, r, "wall diagonal/west/1/north")
	if got := south - north; math.Abs(got-vee) > 0.03*vee {
		t.Errorf("inverted V: %.0f and %.0f N, by statics %.0f N apart", south, north, vee)
	}
}

// TestMullionsSlipUnlessBraced: a mullion's head slips along it unless a brace ends there; the others stay as they were.
func TestMullionsSlipUnlessBraced(t *testing.T) {
	s := read(t, fmt.Sprintf(hinged, ", {wall: west, bay: 1, pattern: crossed rods}"))
	d, err := s.Proposal(s.brief.Library().Find)
	if err != nil {
		t.Fatal(err)
	}
	m := s.Build(d)
	for gable, slips := range [2]bool{false, true} {
		mem := &m.Structure.Members[m.Mullions[gable][0]]
		if e := &m.Structure.Elements[mem.Elements[len(mem.Elements)-1]]; e.ReleaseJ[solver.N] != slips {
			t.Errorf("%s: slips %v, want %v", mem.ID, e.ReleaseJ[solver.N], slips)
		}
	}
	said := false
	for _, f := range m.Findings {
		said = said || f.Where == "west gable" && strings.Contains(f.Text, "mullion heads at Y 5.00")
	}
	if !said {
		t.Errorf("nobody says that the mullion carries: %+v", m.Findings)
	}
	if kg := m.Mass(SecondarySections{}).Groups[brief.GroupWallRod]; math.Abs(kg-rodMass(d)*(2*2*math.Hypot(5, 4)+math.Hypot(5, 5)+math.Hypot(5, 4))) > 1e-6 {
		t.Errorf("rods weigh %.3f kg: four of 6.40 m in the walls, one of 7.07 m and one of 6.40 m in the gable", kg)
	}
	list := s.Departures(&Design{Steel: d.Steel, Struts: d.Struts, Roof: d.Roof, Walls: [planes][]Brace{d.Walls[0], d.Walls[1]}}, d, SecondarySections{}, SecondarySections{})
	if len(list) == 0 || list[0].Text != "west gable: add crossed rods in bay 1" {
		t.Errorf("departures %+v", list)
	}
}

func rodMass(d *Design) float64 { return d.Of(brief.GroupWallRod).Section.Props.Mass }

// TestGablePlanes builds every free layout of the gables of random sheds, braced in one gable at a time: each stands, no
// member has an end without a node, and what was built without it is unchanged.
func TestGablePlanes(t *testing.T) {
	rng := rand.New(rand.NewPCG(61, 62))
	built := 0
	for range 12 {
		s := read(t, anyBrief(rng))
		d, err := s.Proposal(s.brief.Library().Find)
		if err != nil {
			t.Fatal(err)
		}
		d.Steel[brief.GroupWallDiagonal] = d.Steel[brief.GroupEavesStrut]
		bare := s.Build(d)
		for side := westGable; side < planes; side++ {
			for _, c := range s.Candidates(side) {
				if !c.Free() {
					continue
				}
				e := *d
				e.Walls[side] = []Brace{{c.Panel.Bay - 1, c.Pattern, c.Place}}
				m := s.Build(&e)
				built++
				for _, el := range m.Structure.Elements {
					if el.I < 0 || el.J < 0 || el.I == el.J {
						t.Fatalf("%v: element %s has nodes %d, %d", e.Walls[side], el.ID, el.I, el.J)
					}
				}
				if len(m.Walls[side]) == 0 || missingIn(m.Findings) != missingIn(bare.Findings) {
					t.Fatalf("%v: %d members, findings %+v", e.Walls[side], len(m.Walls[side]), m.Findings)
				}
				for f := range m.Columns {
					if a, b := m.Structure.Members[m.Columns[f][0]].Length, bare.Structure.Members[bare.Columns[f][0]].Length; math.Abs(a-b) > 1e-9 {
						t.Fatalf("%v: column %d is %.3f m long, was %.3f", e.Walls[side], f+1, a, b)
					}
				}
			}
		}
	}
	if built < 100 {
		t.Errorf("only %d layouts were built: the test shows little", built)
	}
}

func missingIn(fs []Finding) int {
	n := 0
	for _, f := range fs {
		if f.Missing {
			n++
		}
	}
	return n
}
