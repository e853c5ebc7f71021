package shedspace

import (
	"fmt"
	"math"
	"slices"

	"leanbay/model/bracing"
	"leanbay/model/shed"
	"leanbay/solver/checks/as4100"
)

// Yardstick compares a design's bracing of one plane with the least that any layout could need. Volumes are in m³.
type Yardstick struct {
	Plane    string
	Force    float64 // N along the building, the harder way
	Stress   float64 // Pa, design stress of the plane's brace steel: φ·fy
	Least    float64 // volume of inclined pieces of any layout among the admissible lines, at that stress throughout
	Has      float64 // volume of the design's rods, diagonals, knees and own portal columns in the plane
	Multiple float64 // Has over Least; 0 where Least is 0
	Trouble  string
}

// Yardsticks measures each long wall and the roof under the harder of the load paths' ways: the programme of
// bracing.Ground over every line between columns, floor, eaves and struts that crosses no opening (walls), and over every
// line between the panel points of neighbouring frames (roof). Columns, rafters and struts are there anyway and are free;
// no layout can do with less, for buckling, minimum sizes and the other way are left out.
func (p *Problem) Yardsticks(d *shed.Design, paths []LoadPath) []Yardstick {
	m := p.Shed.Build(d)
	var out []Yardstick
	for side, name := range []string{"south wall", "north wall"} {
		y := Yardstick{Plane: name}
		for i := range paths {
			y.Force = math.Max(y.Force, math.Abs(paths[i].Feet[side]))
		}
		y.Has, y.Stress = volumeOf(m, m.Walls[side])
		g, forces := p.wallGround(side, y.Force)
		y.fill(g, forces)
		out = append(out, y)
	}
	roof := Yardstick{Plane: "roof"}
	roof.Has, roof.Stress = volumeOf(m, m.Roof)
	var hardest *LoadPath
	for i := range paths {
		if f := paths[i].headForce(); f > roof.Force {
			roof.Force, hardest = f, &paths[i]
		}
	}
	if hardest != nil {
		g, forces := p.roofGround(hardest)
		roof.fill(g, forces)
	}
	return append(out, roof)
}

// fill solves the plane's programme.
func (y *Yardstick) fill(g *bracing.Ground, forces [][2]float64) {
	if y.Stress == 0 {
		y.Stress = as4100.Phi * usualYield
	}
	work, _, err := g.LeastVolume(forces)
	if err != nil {
		y.Trouble = err.Error()
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
func volumeOf(m *shed.Model, members []int) (volume, stress float64) {
	for _, i := range members {
		mem := &m.Structure.Members[i]
		if mem.Section == nil {
			continue
		}
		volume += mem.Length * mem.Section.Props.A
		if s := as4100.Phi * mem.Grade.Fy; stress == 0 || s < stress {
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

// wallGround is every line that bracing of a wall could take, and the force at the eaves of frame 1.
func (p *Problem) wallGround(side int, force float64) (*bracing.Ground, [][2]float64) {
	s := p.Shed
	eaves := s.EavesA
	if side == 1 {
		eaves = s.EavesB
	}
	levels := map[int][]float64{} // of each bay's layouts, floor and eaves included
	list := s.Candidates(side)
	for _, c := range list {
		for _, l := range c.Lines {
			if c.Free() {
				levels[c.Panel.Bay] = append(levels[c.Panel.Bay], l.From.V, l.To.V)
			}
		}
	}
	b := &groundBuilder{}
	columns := make([][]int, len(s.Frames))
	for f, x := range s.Frames {
		vs := append(slices.Concat(levels[f], levels[f+1]), 0, eaves)
		slices.Sort(vs)
		vs = slices.CompactFunc(vs, func(a, c float64) bool { return math.Abs(a-c) < samePlace })
		for _, v := range vs {
			columns[f] = append(columns[f], b.point(x, v, v == 0, v == 0))
		}
		for k := 1; k < len(columns[f]); k++ {
			b.line(columns[f][k-1], columns[f][k], true)
		}
	}
	for f := 0; f+1 < len(s.Frames); f++ {
		p.bayLines(b, side, f, eaves, columns[f], columns[f+1])
	}
	forces := make([][2]float64, len(b.Points))
	forces[columns[0][len(columns[0])-1]][0] = force
	return &b.Ground, forces
}

// bayLines adds a bay's eaves strut, the struts that fit between its columns, and every clear line between columns, floor
// and the middle of struts.
func (p *Problem) bayLines(b *groundBuilder, side, f int, eaves float64, left, right []int) {
	s := p.Shed
	mid := (s.Frames[f] + s.Frames[f+1]) / 2
	var middles []int
	clear := func(i, j int) bool { return s.LineClear(side, f, bracing.Line{From: b.Points[i], To: b.Points[j]}) }
	for _, i := range left {
		for _, j := range right {
			level := math.Abs(b.Points[i].V-b.Points[j].V) < samePlace
			v := b.Points[i].V
			switch {
			case level && v == 0:
				middles = append(middles, b.point(mid, 0, true, true))
			case level && (v == eaves || clear(i, j)):
				m := b.point(mid, v, false, false)
				middles = append(middles, m)
				b.line(i, m, true)
				b.line(m, j, true)
			case !level && clear(i, j):
				b.line(i, j, false)
			}
		}
	}
	for _, m := range middles {
		for _, end := range slices.Concat(left, right) {
			if math.Abs(b.Points[end].V-b.Points[m].V) > samePlace && clear(m, end) {
				b.line(m, end, false)
			}
		}
	}
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

// String says it in one line.
func (y *Yardstick) String() string {
	if y.Trouble != "" {
		return fmt.Sprintf("%s: %.1f kN; %s", y.Plane, y.Force/1e3, y.Trouble)
	}
	if y.Has == 0 {
		return fmt.Sprintf("%s: %.1f kN; least brace steel of any layout %.1f kg at %.0f MPa; the design has none", y.Plane, y.Force/1e3, y.Least*steelDensity, y.Stress/1e6)
	}
	return fmt.Sprintf("%s: %.1f kN; least brace steel of any layout %.1f kg at %.0f MPa; the design has %.1f kg, %.1f times as much",
		y.Plane, y.Force/1e3, y.Least*steelDensity, y.Stress/1e6, y.Has*steelDensity, y.Multiple)
}

// steelDensity is that of steel (kg/m³).
const steelDensity = 7850.0
