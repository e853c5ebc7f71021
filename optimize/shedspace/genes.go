package shedspace

import (
	"fmt"
	"math"
	"slices"

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
	// first, where set, is option without asking has of every one.
	first func(d *shed.Design) int
	// near, where set, is the option nearest to what a design has where that is not among the options.
	near func(d *shed.Design) int
	// idle says that the design does not use the decision: its option is then 0, so that equal sheds have equal points.
	idle func(d *shed.Design) bool
	// groups whose section the gene decides, alone or with others; none for genes of the layout.
	groups []brief.Group
	// steel is what a group of the gene may be made of.
	steel map[brief.Group][]shed.Steel
	// narrows, where set, says whether an option leaves a section possible for a group that further genes decide with it.
	narrows func(option int, s shed.Steel) bool
	// props says that the gene places props.
	props bool
}

// idleAmong is idle where the groups that the design uses are known.
func (g *gene) idleAmong(d *shed.Design, used []brief.Group) bool {
	if len(g.groups) == 0 {
		return g.idle(d)
	}
	return !slices.ContainsFunc(g.groups, func(of brief.Group) bool { return slices.Contains(used, of) })
}

// stock is what a group of the gene may be made of.
func (g *gene) stock(of brief.Group) []shed.Steel { return g.steel[of] }

// option is the first option that the design has, or -1.
func (g *gene) option(d *shed.Design) int {
	if g.first != nil {
		return g.first(d)
	}
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
	p.addSecondaryWind() // the third gene: see spacingsLeft
	p.addSecondaries()
	p.addProps()
	p.addWalls()
	p.addRoof()
	if err := p.addSteel(); err != nil {
		return err
	}
	p.decoder = newDecoder(p)
	return nil
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
			Gene:  optimize.Gene{Name: set.name, Options: names(values, func(v float64) string { return fmt.Sprintf("%.3f m", v) }), Values: values, Ordered: true},
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
			props: true,
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
// mid-span, so that what was drawn is among them, and the lines of posts that a prop may share.
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
			out = append(out, y)
		}
	}
	for _, y := range s.SharedLines() {
		if y < last+1e-6 {
			out = append(out, y)
		}
	}
	out = slices.DeleteFunc(out, func(y float64) bool {
		return y <= 0.5 || y >= s.Span-0.5 || !p.windowOpen(y) || len(p.propFrames(y)) == 0
	})
	slices.Sort(out)
	return slices.CompactFunc(out, func(a, b float64) bool { return math.Abs(b-a) < samePlace })
}

// samePlace is how near two positions of props are one (m): the builder makes one node of them.
const samePlace = 0.010

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
	for _, at := range []float64{y, math.Round((p.Shed.Span-y)*1000) / 1000} {
		if !p.windowOpen(at) {
			continue
		}
		for _, f := range p.propFrames(at) {
			d.AddProp(f, at)
		}
		if !mirror {
			return
		}
	}
}

func oneBased(bays []int) []int {
	out := make([]int, len(bays))
	for i, b := range bays {
		out[i] = b + 1
	}
	return out
}
