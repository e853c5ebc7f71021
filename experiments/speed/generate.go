package speed

import (
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/solver"
)

// The generated shed. Each frame has four members: a column, a rafter to the ridge, a rafter down, a column. Columns are cut
// at three girt heights, rafters at every second purlin; purlins stand every 1.2 m in plan and load the rafters there. Struts
// join the frames at eaves and ridge. The first bay and every tenth after it have crossed rods in both walls and in the roof,
// with struts at the roof rods' nodes between eaves and ridge. Bases are pins that do not twist. Sections and loads are of the
// size that such a shed has; the demand is not that it complies, but that it is a matrix and a load like those of real ones.
const (
	genBay     = 7.5  // m
	genSpan    = 24.0 // m
	genEaves   = 6.0  // m
	genSlope   = 0.15
	genGirt    = 2.0 // m
	genPurlin  = 1.2 // m in plan
	genBraced  = 10  // every tenth bay
	genJoints  = 17  // a frame: 0 and 16 are bases, 3 and 13 eaves, 8 the ridge, 6 and 10 nodes of the roof rods
	genColumns = 3   // pieces of a column
	genRafters = 5   // pieces of a rafter
)

// genSection is a section by numbers (m², m⁴).
type genSection struct{ a, ix, iy, it float64 }

// Hollow sections by the thin-wall formulas of their centre lines, rounded: 350 x 250 x 8, 350 x 250 x 8 and 100 x 100 x 4; a
// rod of 24 mm by its solid circle.
var (
	genColumn = genSection{9.3e-3, 1.72e-4, 1.03e-4, 1.97e-4}
	genRafter = genSection{9.3e-3, 1.72e-4, 1.03e-4, 1.97e-4}
	genStrut  = genSection{1.54e-3, 2.36e-6, 2.36e-6, 3.54e-6}
	genRod    = genSection{a: 4.52e-4}
)

// The cases of the generated shed, in order.
const (
	genG  = iota // own weight and roofing
	genQ         // imposed on the roof
	genWS        // wind from the south
	genWN        // wind from the north
	genWX        // wind along the building, onto the first frame
	genPI        // internal pressure
	genCases
)

// The pressures (Pa) of the cases.
const (
	genRoofing = 100.0
	genImposed = 250.0
	genWind    = 600.0 // dynamic pressure times local factors of about 1
)

// Coefficients of external pressure on the south wall, south roof, north roof and north wall when the wind is from the
// south; of the roof and walls when it blows along; positive is inwards. They are of the usual size, no more.
var (
	genAcross = [4]float64{0.7, -0.6, -0.5, -0.3}
	genAlong  = [4]float64{-0.3, -0.4, -0.4, -0.3}
)

// genGable is the pressure coefficient on the gable that faces a wind along the building and, less, on the other.
var genGable = [2]float64{0.7, 0.3}

// Braced tells whether the bay after frame f (from 0) has bracing.
func Braced(f int) bool { return f%genBraced == 0 }

// Generate returns the shed of that many frames, at least 2, with its cases and combinations.
func Generate(frames int) (*solver.Structure, error) {
	if frames < 2 {
		return nil, fmt.Errorf("a generated shed of %d frames: give at least 2", frames)
	}
	g := &generator{s: &solver.Structure{}, frames: frames}
	for f := range frames {
		g.frame(f)
	}
	for f := range frames - 1 {
		g.bay(f)
	}
	g.loads()
	g.combinations()
	return g.s, nil
}

type generator struct {
	s      *solver.Structure
	frames int
}

func (g *generator) joint(f, k int) int { return f*genJoints + k }

// jointAt is where joint k of frame f stands.
func jointAt(f, k int) r3.Vec {
	x := genBay * float64(f)
	step := genSpan / (2 * genRafters)
	switch {
	case k <= genColumns:
		return r3.Vec{X: x, Z: genGirt * float64(k)}
	case k >= genJoints-1-genColumns:
		return r3.Vec{X: x, Y: genSpan, Z: genGirt * float64(genJoints-1-k)}
	}
	y := step * float64(k-genColumns)
	return r3.Vec{X: x, Y: y, Z: genEaves + genSlope*min(y, genSpan-y)}
}

// frame adds the joints and the four members of a frame.
func (g *generator) frame(f int) {
	for k := range genJoints {
		n := solver.Node{ID: len(g.s.Nodes) + 1, Name: fmt.Sprintf("joint %d of frame %d", k, f+1), Pos: jointAt(f, k)}
		if k == 0 || k == genJoints-1 {
			n.Held = [6]bool{solver.UX: true, solver.UY: true, solver.UZ: true, solver.RZ: true}
		}
		g.s.Nodes = append(g.s.Nodes, n)
	}
	south, ridge, north := genColumns, genColumns+genRafters, genColumns+2*genRafters
	g.member(f, "column/%d/A", solver.RoleColumn, genColumn, r3.Vec{Y: -1}, 0, south)
	g.member(f, "rafter/%d/A-ridge", solver.RoleRafter, genRafter, r3.Vec{Z: 1}, south, ridge)
	g.member(f, "rafter/%d/ridge-B", solver.RoleRafter, genRafter, r3.Vec{Z: 1}, ridge, north)
	g.member(f, "column/%d/B", solver.RoleColumn, genColumn, r3.Vec{Y: 1}, north, genJoints-1)
}

// member adds the chain of elements from joint a to joint b of frame f; y points outwards.
func (g *generator) member(f int, id string, role solver.Role, c genSection, y r3.Vec, a, b int) {
	m := solver.Member{ID: fmt.Sprintf(id, f+1), Group: string(role), Role: role}
	for k := a; k < b; k++ {
		m.Elements = append(m.Elements, len(g.s.Elements))
		m.Length += r3.Norm(r3.Sub(jointAt(f, k+1), jointAt(f, k)))
		e := g.element(g.joint(f, k), g.joint(f, k+1), c, y)
		e.ID = fmt.Sprintf("%s.%d", m.ID, k-a+1)
		g.s.Elements = append(g.s.Elements, e)
	}
	g.s.Members = append(g.s.Members, m)
}

func (g *generator) element(i, j int, c genSection, y r3.Vec) solver.Element {
	return solver.Element{I: i, J: j, Member: len(g.s.Members), E: 200e9, G: 80e9, Density: 7850, A: c.a, Iy: c.iy, Iz: c.ix, It: c.it, YAxis: y}
}

// bay adds what ties frame f to the next.
func (g *generator) bay(f int) {
	south, ridge, north := genColumns, genColumns+genRafters, genColumns+2*genRafters
	struts := []int{south, ridge, north}
	if Braced(f) {
		struts = append(struts, south+3, north-3)
		for _, c := range [][2]int{{0, south}, {genJoints - 1, north}, {south, south + 3}, {south + 3, ridge}, {ridge, north - 3}, {north - 3, north}} {
			g.rod(f, c[0], c[1])
			g.rod(f, c[1], c[0])
		}
	}
	for _, k := range struts {
		id := fmt.Sprintf("strut/%d/%d", f+1, k)
		e := g.element(g.joint(f, k), g.joint(f+1, k), genStrut, r3.Vec{Z: 1})
		e.ID = id
		for _, c := range []solver.Component{solver.My, solver.Mz} {
			e.ReleaseI[c], e.ReleaseJ[c] = true, true
		}
		g.tie(e, id, solver.RoleStrut)
	}
}

// rod adds a tension rod from joint a of frame f to joint b of the next.
func (g *generator) rod(f, a, b int) {
	id := fmt.Sprintf("rod/%d/%d-%d", f+1, a, b)
	role := solver.RoleRoofBrace
	if a == 0 || b == 0 || a == genJoints-1 || b == genJoints-1 {
		role = solver.RoleWallBrace
	}
	e := g.element(g.joint(f, a), g.joint(f+1, b), genRod, r3.Vec{Z: 1})
	e.ID, e.Bar, e.Acts = id, true, solver.TensionOnly
	g.tie(e, id, role)
}

// tie adds a member of one element.
func (g *generator) tie(e solver.Element, id string, role solver.Role) {
	s := g.s
	d := r3.Sub(s.Nodes[e.J].Pos, s.Nodes[e.I].Pos)
	s.Members = append(s.Members, solver.Member{ID: id, Group: string(role), Role: role, Elements: []int{len(s.Elements)}, Length: r3.Norm(d)})
	s.Elements = append(s.Elements, e)
}
