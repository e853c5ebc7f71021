package shedspace

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"leanbay/model/bracing"
	"leanbay/model/shed"
)

// Yardstick compares a design's bracing of one plane with the least that any layout could need. Volumes are in m³.
type Yardstick struct {
	Plane    string
	Force    float64 // N along the plane, the harder way
	Stress   float64 // Pa, design stress of the plane's brace steel: φ·fy
	Least    float64 // volume of inclined pieces of any layout among the admissible lines, at that stress throughout
	Has      float64 // volume of the design's rods, diagonals, knees and own portal columns in the plane
	Bends    bool    // its force goes down by bending, at least in part
	Multiple float64 // Has over Least; 0 where Least is 0
	Trouble  string
	blocked  bool // no set of admissible lines carries the force
}

// Yardsticks measures each long wall, the roof and each gable under the harder of the load paths' ways: the programme of
// bracing.Ground over every line between columns, mullions, floor, top and struts that crosses no opening (walls), and over
// every line between the panel points of neighbouring frames (roof). Columns, rafters and struts are there anyway and are
// free; no layout can do with less, for buckling, minimum sizes and the other way are left out. A gable without bracing is
// measured by what its end frame takes across the building by bending.
func (p *Problem) Yardsticks(d *shed.Design, paths []LoadPath) ([]Yardstick, error) {
	m := p.Shed.Build(d)
	if !slices.ContainsFunc(paths, func(l LoadPath) bool { return l.Across }) {
		across, err := p.paths(d, true)
		if err != nil {
			return nil, err
		}
		paths = slices.Concat(paths, across)
	}
	var out []Yardstick
	for side, name := range shed.PlaneNames {
		y := Yardstick{Plane: name, Bends: bendsIn(m, side)}
		for i := range paths {
			if paths[i].Across == (side >= longWalls) {
				y.Force = math.Max(y.Force, math.Abs(paths[i].Feet[side%longWalls]))
			}
		}
		y.Has, y.Stress = volumeOf(m, m.Walls[side], p.bench.rules.Phi())
		g, forces := p.wallGround(side, y.Force)
		if y.fill(g, forces, p.bench.rules.Phi()); y.blocked {
			y.Trouble = p.whyNoLine(side)
		}
		out = append(out, y)
	}
	roof := Yardstick{Plane: "roof"}
	roof.Has, roof.Stress = volumeOf(m, m.Roof, p.bench.rules.Phi())
	var hardest *LoadPath
	for i := range paths {
		if f := paths[i].headForce(); f > roof.Force {
			roof.Force, hardest = f, &paths[i]
		}
	}
	if hardest != nil {
		g, forces := p.roofGround(hardest)
		roof.fill(g, forces, p.bench.rules.Phi())
	}
	return slices.Insert(out, longWalls, roof), nil
}

// bendsIn says whether columns of a wall carry force along it by bending: in a gable, the end frame's always do.
func bendsIn(m *shed.Model, side int) bool {
	return side >= longWalls || slices.ContainsFunc(m.Portals, func(p shed.Portal) bool { return p.Side == side })
}

// whyNoLine says why no set of lines braces a wall, and what would carry its force instead.
func (p *Problem) whyNoLine(side int) string {
	var blocks, bending []string
	for _, c := range p.Shed.Candidates(side) {
		for _, b := range c.Blocks {
			if c.Place == (bracing.Place{}) && c.Pattern == bracing.CrossedRods && !slices.Contains(blocks, b.Obstacle.Name) {
				blocks = append(blocks, b.Obstacle.Name)
			}
		}
		if c.Free() && c.Bends(c.Pattern) {
			bending = append(bending, shed.Brace{Bay: c.Panel.Bay - 1, Pattern: c.Pattern, Place: c.Place}.InPlane(side))
		}
	}
	text := "no line between its columns is clear down to the floor"
	if len(blocks) > 0 {
		text += fmt.Sprintf(" (%s)", strings.Join(blocks, ", "))
	}
	if len(bending) > 0 {
		return text + "; only bending carries the force down: " + strings.Join(bending[:min(len(bending), 3)], ", ")
	}
	return text + ", and no bay has room for knees or a portal"
}

// fill solves the plane's programme.
func (y *Yardstick) fill(g *bracing.Ground, forces [][2]float64, phi float64) {
	if y.Stress == 0 {
		y.Stress = phi * usualYield
	}
	work, _, err := g.LeastVolume(forces)
	if err != nil {
		y.Trouble, y.blocked = err.Error(), errors.Is(err, bracing.ErrNoPath)
		return
	}
	y.Least = work / y.Stress
	if y.Least > 0 {
		y.Multiple = y.Has / y.Least
	}
}

// usualYield is taken for a plane without braces of its own: grade 300 rods (Pa).
const usualYield = 300e6

// volumeOf is the volume of members and the least design stress among them.
func volumeOf(m *shed.Model, members []int, phi float64) (volume, stress float64) {
	for _, i := range members {
		mem := &m.Structure.Members[i]
		if mem.Section == nil {
			continue
		}
		volume += mem.Length * mem.Section.Props.A
		if s := phi * mem.Grade.Fy; stress == 0 || s < stress {
			stress = s
		}
	}
	return volume, stress
}

// headForce sums what the mullions' heads push (N).
func (l *LoadPath) headForce() float64 {
	sum := 0.0
	for _, k := range l.Links {
		if k.Step == StepHeads {
			sum += k.Axial
		}
	}
	return math.Abs(sum)
}

// groundBuilder collects points once each.
type groundBuilder struct{ bracing.Ground }

func (b *groundBuilder) point(u, v float64, alongHeld, acrossHeld bool) int {
	for i, p := range b.Points {
		if math.Hypot(p.U-u, p.V-v) < samePlace {
			return i
		}
	}
	b.Points = append(b.Points, bracing.Point{U: u, V: v})
	b.Held = append(b.Held, [2]bool{alongHeld, acrossHeld})
	return len(b.Points) - 1
}

func (b *groundBuilder) line(i, j int, free bool) {
	if i != j {
		b.Lines = append(b.Lines, bracing.GroundLine{I: i, J: j, Free: free})
	}
}

// wallGround is every line that bracing of a wall or gable could take, and the force at the top of its first column.
func (p *Problem) wallGround(side int, force float64) (*bracing.Ground, [][2]float64) {
	s := p.Shed
	us := s.Uprights(side)
	levels := map[int][]float64{} // of each bay's layouts, floor and top included
	for _, c := range s.Candidates(side) {
		top := math.Max(c.Panel.V1, c.Panel.V1+c.Panel.Rise[1])
		for _, l := range c.Lines {
			for _, v := range []float64{l.From.V, l.To.V} {
				if c.Free() && v < top-samePlace {
					levels[c.Panel.Bay] = append(levels[c.Panel.Bay], v)
				}
			}
		}
	}
	b := &groundBuilder{}
	columns := make([][]int, len(us))
	for k, u := range us {
		top := s.Top(side, u)
		vs := append(slices.Concat(levels[k], levels[k+1]), 0, top)
		slices.Sort(vs)
		vs = slices.CompactFunc(vs, func(a, c float64) bool { return math.Abs(a-c) < samePlace })
		for _, v := range vs {
			if v <= top {
				columns[k] = append(columns[k], b.point(u, v, v == 0, v == 0))
			}
		}
		for i := 1; i < len(columns[k]); i++ {
			b.line(columns[k][i-1], columns[k][i], true)
		}
	}
	for k := 0; k+1 < len(us); k++ {
		p.bayLines(b, side, k, columns[k], columns[k+1])
	}
	forces := make([][2]float64, len(b.Points))
	forces[columns[0][len(columns[0])-1]][0] = force
	return &b.Ground, forces
}

// bayLines adds what runs along a bay's top (eaves strut, or in a gable the rafter), the struts that fit between its uprights,
// and every clear line between uprights, floor and the middle of struts and top.
func (p *Problem) bayLines(b *groundBuilder, side, bay int, left, right []int) {
	s := p.Shed
	us := s.Uprights(side)
	mid := (us[bay] + us[bay+1]) / 2
	middles := []int{b.point(mid, 0, true, true)}
	halves := func(i, j int, v float64) {
		m := b.point(mid, v, false, false)
		middles = append(middles, m)
		b.line(i, m, true)
		b.line(m, j, true)
	}
	clear := func(i, j int) bool { return s.LineClear(side, bay, bracing.Line{From: b.Points[i], To: b.Points[j]}) }
	for a, i := range left {
		for c, j := range right {
			level := math.Abs(b.Points[i].V-b.Points[j].V) < samePlace
			switch {
			case a == len(left)-1 && c == len(right)-1 && side < longWalls:
				halves(i, j, s.Top(side, mid))
			case a == len(left)-1 && c == len(right)-1:
				b.line(i, j, true)
				apex := bracing.Point{U: mid, V: s.Top(side, mid)}
				if slices.ContainsFunc(slices.Concat(left[:1], right[:1]), func(foot int) bool {
					return s.LineClear(side, bay, bracing.Line{From: b.Points[foot], To: apex})
				}) {
					halves(i, j, apex.V)
				}
			case a == 0 && c == 0:
			case level && clear(i, j):
				halves(i, j, b.Points[i].V)
			case !level && clear(i, j):
				b.line(i, j, false)
			}
		}
	}
	for _, m := range middles {
		for _, end := range slices.Concat(left, right) {
			if math.Abs(b.Points[end].V-b.Points[m].V) > samePlace && clear(m, end) && !b.joined(m, end) {
				b.line(m, end, false)
			}
		}
	}
}

// joined says whether two points have a line between them.
func (b *groundBuilder) joined(i, j int) bool {
	return slices.ContainsFunc(b.Lines, func(l bracing.GroundLine) bool { return l.I == i && l.J == j || l.I == j && l.J == i })
}

// roofGround is every line that bracing of the roof could take in its developed plane, and the pushes of a path's mullion
// heads. The eaves are held along the building, as the walls hold them; rafters and struts are free.
func (p *Problem) roofGround(l *LoadPath) (*bracing.Ground, [][2]float64) {
	s := p.Shed
	ys := append(slices.Concat(s.Mullions[0], s.Mullions[1]), 0, s.RidgeY, s.Span)
	slices.Sort(ys)
	ys = slices.CompactFunc(ys, func(a, c float64) bool { return math.Abs(a-c) < samePlace })
	b := &groundBuilder{}
	node := make([][]int, len(s.Frames))
	for f, x := range s.Frames {
		for k, y := range ys {
			node[f] = append(node[f], b.point(x, s.Developed(0, y), k == 0 || k == len(ys)-1, f == 0 && k == 0))
			if k > 0 {
				b.line(node[f][k-1], node[f][k], true)
			}
		}
	}
	for f := 0; f+1 < len(s.Frames); f++ {
		for i := range ys {
			for j := range ys {
				b.line(node[f][i], node[f+1][j], i == j)
			}
		}
	}
	forces := make([][2]float64, len(b.Points))
	for _, k := range l.Links {
		if k.Step != StepHeads {
			continue
		}
		f := 0
		if k.B.X > 1e-6 {
			f = len(s.Frames) - 1
		}
		for i, y := range ys {
			if math.Abs(y-k.B.Y) < samePlace {
				forces[node[f][i]][0] += k.Axial
			}
		}
	}
	return &b.Ground, forces
}

// LeastMass and HasMass are the volumes in steel (kg).
func (y *Yardstick) LeastMass() float64 { return y.Least * steelDensity }

// HasMass is the mass of what the design has (kg).
func (y *Yardstick) HasMass() float64 { return y.Has * steelDensity }

// String says it in one line.
func (y *Yardstick) String() string {
	head := fmt.Sprintf("%s: %.1f kN; ", y.Plane, y.Force/1e3)
	if y.Trouble != "" {
		return head + y.Trouble
	}
	head += fmt.Sprintf("least brace steel of any layout %.1f kg at %.0f MPa", y.Least*steelDensity, y.Stress/1e6)
	switch {
	case y.Has == 0 && y.Bends:
		return head + "; the design has none: it carries the force by bending"
	case y.Has == 0:
		return head + "; the design has none"
	}
	text := fmt.Sprintf("%s; the design has %.1f kg, %.1f times as much", head, y.Has*steelDensity, y.Multiple)
	if y.Bends {
		text += ", and bending of columns besides"
	}
	return text
}

// steelDensity is that of steel (kg/m³).
const steelDensity = 7850.0
