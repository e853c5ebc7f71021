package shedspace

import (
	"fmt"
	"math"
	"slices"

	"leanbay/catalog"
	"leanbay/model/bracing"
	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/optimize"
)

// gene is one decision with what it does to a design.
type gene struct {
	optimize.Gene
	// apply writes option i into the design.
	apply func(d *shed.Design, i int)
	// has says whether the design has option i: it reads repaired designs back, and designs that were drawn.
	has func(d *shed.Design, i int) bool
	// idle says that the design does not use the decision: its option is then 0, so that equal sheds have equal points.
	idle func(d *shed.Design) bool
}

// option is the first option that the design has, or -1.
func (g *gene) option(d *shed.Design) int {
	for i := range g.Count() {
		if g.has(d, i) {
			return i
		}
	}
	return -1
}

// buildGenes lists the decisions of a brief, in the order in which they are applied.
func (p *Problem) buildGenes() error {
	p.addSpacings()
	p.addProps()
	p.addWalls()
	p.addRoof()
	return p.addSteel()
}

func (p *Problem) add(g gene) {
	p.genes = append(p.genes, g)
	p.space.Genes = append(p.space.Genes, g.Gene)
}

func never(*shed.Design) bool { return false }

// names turns values into option names.
func names[T any](list []T, name func(T) string) []string {
	out := make([]string, len(list))
	for i, v := range list {
		out[i] = name(v)
	}
	return out
}

// addSpacings frees the spacings of purlins and girts.
func (p *Problem) addSpacings() {
	f := &p.Brief.Freedoms
	for _, set := range []struct {
		name  string
		lines brief.Lines
		field func(d *shed.Design) *float64
	}{
		{"purlin spacing", p.Brief.Building.Secondary.Purlins, func(d *shed.Design) *float64 { return &d.PurlinSpacing }},
		{"girt spacing", p.Brief.Building.Secondary.Girts, func(d *shed.Design) *float64 { return &d.GirtSpacing }},
	} {
		values := []float64{*set.field(p.Drawn)}
		if f.Spacings {
			values = values[:0]
			for _, s := range set.lines.Spacings {
				values = append(values, float64(s))
			}
			slices.Sort(values)
			values = slices.Compact(values)
		}
		field := set.field
		p.add(gene{
			Gene:  optimize.Gene{Name: set.name, Options: names(values, func(v float64) string { return fmt.Sprintf("%.3f m", v) }), Ordered: true},
			apply: func(d *shed.Design, i int) { *field(d) = values[i] },
			has:   func(d *shed.Design, i int) bool { return *field(d) == values[i] },
			idle:  never,
		})
	}
}

// addProps frees the lines of props. With symmetric frames one decision places a pair about the ridge; else each line is
// placed by itself. Where the architecture forbids a prop at a frame, that frame goes without.
func (p *Problem) addProps() {
	f := &p.Brief.Freedoms.Props
	if !f.Add && len(p.Drawn.Props) == 0 {
		return
	}
	s := p.Shed
	lines := f.MaxLines
	sym := p.Brief.Freedoms.Symmetric && s.HasRidge()
	last := s.Span
	if sym {
		lines, last = min(lines, 1), s.RidgeY
	}
	for l := range lines {
		ys := p.propPositions(last)
		options := names(ys, func(y float64) string { return fmt.Sprintf("Y %.2f m", y) })
		if f.LeaveOut || len(p.Drawn.Props) == 0 {
			ys = append([]float64{0}, ys...)
			options = append([]string{"none"}, options...)
		}
		if len(ys) == 0 {
			return
		}
		p.add(gene{
			Gene:  optimize.Gene{Name: fmt.Sprintf("prop line %d", l+1), Options: options, Ordered: true},
			apply: func(d *shed.Design, i int) { p.placeProps(d, ys[i], sym) },
			has:   func(d *shed.Design, i int) bool { return hasLine(d, l, ys[i]) },
			idle:  never,
		})
	}
}

// hasLine says whether the design's line number l, in order of Y, is at y; 0 is no such line.
func hasLine(d *shed.Design, l int, y float64) bool {
	if y == 0 {
		return l >= len(d.Props)
	}
	return l < len(d.Props) && d.Props[l].Y == y
}

// propPositions are the Y up to last at which some frame may have a prop, by the brief's step from the drawn lines or
// mid-span, so that what was drawn is among them.
func (p *Problem) propPositions(last float64) []float64 {
	s, step := p.Shed, float64(p.Brief.Freedoms.Props.Step)
	origins := []float64{s.Span / 2}
	if len(p.Drawn.Props) > 0 {
		origins = origins[:0]
		for _, l := range p.Drawn.Props {
			origins = append(origins, l.Y)
		}
	}
	var out []float64
	for _, o := range origins {
		for y := o - math.Floor(o/step)*step; y < last+1e-6; y += step {
			y := math.Round(y*1000) / 1000 // drawings have millimetres
			if y > 0.5 && y < s.Span-0.5 && p.windowOpen(y) && len(p.propFrames(y)) > 0 {
				out = append(out, y)
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// windowOpen says whether the brief's windows, if it has any, contain y.
func (p *Problem) windowOpen(y float64) bool {
	ws := p.Brief.Freedoms.Props.Windows
	if len(ws) == 0 {
		return true
	}
	for _, w := range ws {
		if y >= float64(w[0])-1e-6 && y <= float64(w[1])+1e-6 {
			return true
		}
	}
	return false
}

// propFrames are the frames that may have a prop at y: the brief's lines, else all inner ones.
func (p *Problem) propFrames(y float64) []int {
	var out []int
	lines := p.Brief.Freedoms.Props.Lines
	for f := range p.Shed.Frames {
		inner := f > 0 && f < len(p.Shed.Frames)-1
		listed := slices.Contains(lines, f+1)
		if (listed || len(lines) == 0 && inner) && p.Shed.PropAllowed(f, y) {
			out = append(out, f)
		}
	}
	return out
}

// placeProps adds a line of props at y (0 is none), and its mirror image about mid-span.
func (p *Problem) placeProps(d *shed.Design, y float64, mirror bool) {
	if y == 0 {
		return
	}
	for _, at := range []float64{y, p.Shed.Span - y} {
		for _, f := range p.propFrames(at) {
			d.AddProp(f, at)
		}
		if !mirror {
			return
		}
	}
}

// addWalls frees the bracing of both long walls: none, any free full panel, or, where two bays are allowed, any two.
func (p *Problem) addWalls() {
	f := &p.Brief.Freedoms.Bracing
	for side, allowed := range [][]brief.Pattern{f.South, f.North} {
		options := p.wallOptions(side, allowed, f.MaxBays)
		p.walls[side] = options
		p.add(gene{
			Gene: optimize.Gene{
				Name:    []string{"south wall", "north wall"}[side],
				Options: names(options, describe),
				Family:  wallFamilies(options),
			},
			apply: func(d *shed.Design, i int) { d.Walls[side] = options[i] },
			has:   func(d *shed.Design, i int) bool { return slices.Equal(options[i], d.Walls[side]) },
			idle:  never,
		})
	}
}

// wallOptions lists the choices of one wall, the drawn one among them.
func (p *Problem) wallOptions(side int, allowed []brief.Pattern, most int) [][]shed.Brace {
	var single []shed.Brace
	for _, c := range p.Shed.Candidates(side) {
		word := brief.SingleStrut
		if c.Pattern == bracing.CrossedRods {
			word = brief.CrossedRods
		}
		if c.Free() && slices.Contains(allowed, word) {
			single = append(single, shed.Brace{Bay: c.Panel.Bay - 1, Pattern: c.Pattern})
		}
	}
	var out [][]shed.Brace
	if slices.Contains(allowed, brief.NoBracing) || len(single) == 0 {
		out = append(out, nil)
	}
	for _, b := range single {
		out = append(out, []shed.Brace{b})
	}
	if most >= 2 {
		for i, a := range single {
			for _, b := range single[i+1:] {
				if a.Bay != b.Bay && a.Pattern.Rods() == b.Pattern.Rods() {
					out = append(out, []shed.Brace{a, b})
				}
			}
		}
	}
	drawn := p.Drawn.Walls[side]
	if !slices.ContainsFunc(out, func(o []shed.Brace) bool { return slices.Equal(o, drawn) }) {
		out = append(out, drawn)
	}
	return out
}

// describe names a wall's bracing.
func describe(bs []shed.Brace) string {
	if len(bs) == 0 {
		return "none"
	}
	text := ""
	for i, b := range bs {
		if i > 0 {
			text += " + "
		}
		text += fmt.Sprintf("%s in bay %d", b.Pattern, b.Bay+1)
	}
	return text
}

// wallFamilies groups a wall's options: none, rods, diagonals.
func wallFamilies(options [][]shed.Brace) []int {
	out := make([]int, len(options))
	for i, o := range options {
		switch {
		case len(o) == 0:
		case o[0].Pattern.Rods():
			out[i] = 1
		default:
			out[i] = 2
		}
	}
	return out
}

// addRoof frees the braced bays of the roof (one or two) and the struts.
func (p *Problem) addRoof() {
	bays := len(p.Shed.Frames) - 1
	var options [][]int
	for i := range bays {
		options = append(options, []int{i})
	}
	if p.Brief.Freedoms.Bracing.MaxBays >= 2 {
		for i := range bays {
			for j := i + 1; j < bays; j++ {
				options = append(options, []int{i, j})
			}
		}
	}
	if !slices.ContainsFunc(options, func(o []int) bool { return slices.Equal(o, p.Drawn.Roof) }) {
		options = append(options, p.Drawn.Roof)
	}
	p.add(gene{
		Gene:  optimize.Gene{Name: "roof bracing", Options: names(options, func(o []int) string { return fmt.Sprintf("bays %v", oneBased(o)) })},
		apply: func(d *shed.Design, i int) { d.Roof = options[i] },
		has:   func(d *shed.Design, i int) bool { return slices.Equal(options[i], d.Roof) },
		idle:  never,
	})
	for _, st := range []struct {
		name  string
		field func(d *shed.Design) *bool
	}{
		{"ridge strut", func(d *shed.Design) *bool { return &d.Struts.Ridge }},
		{"node struts", func(d *shed.Design) *bool { return &d.Struts.Nodes }},
	} {
		values := []bool{*st.field(p.Drawn)}
		if p.Brief.Freedoms.Struts {
			values = []bool{false, true}
		}
		field := st.field
		p.add(gene{
			Gene:  optimize.Gene{Name: st.name, Options: names(values, func(b bool) string { return map[bool]string{true: "yes", false: "no"}[b] })},
			apply: func(d *shed.Design, i int) { *field(d) = values[i] },
			has:   func(d *shed.Design, i int) bool { return *field(d) == values[i] },
			idle:  never,
		})
	}
	if p.Brief.Freedoms.FlyBraces && p.openFrames() {
		values := []int{0, 4, 3, 2, 1}
		p.add(gene{
			Gene:  optimize.Gene{Name: "fly braces at every n-th purlin", Options: names(values, func(v int) string { return fmt.Sprint(v) }), Ordered: true},
			apply: func(d *shed.Design, i int) { d.FlyBraces = values[i] },
			has:   func(d *shed.Design, i int) bool { return d.FlyBraces == values[i] },
			idle:  never,
		})
	}
}

// openFrames says whether rafters may be of open section; hollow ones need no fly braces.
func (p *Problem) openFrames() bool {
	r := p.Drawn.Of(brief.GroupRafter).Section
	return r != nil && (r.Family == catalog.UB || r.Family == catalog.PFC)
}

func oneBased(bays []int) []int {
	out := make([]int, len(bays))
	for i, b := range bays {
		out[i] = b + 1
	}
	return out
}
