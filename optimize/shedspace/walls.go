package shedspace

import (
	"cmp"
	"fmt"
	"slices"

	"leanbay/catalog"
	"leanbay/model/bracing"
	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/optimize"
)

// longWalls is the number of long walls; they come before the gables.
const longWalls = 2

// addWalls frees the bracing of both long walls and of the gables: none, any free layout in one bay, or, where two bays are
// allowed, the same pattern in any two. A gable that is to stay without bracing is no decision.
func (p *Problem) addWalls() {
	f := &p.Brief.Freedoms.Bracing
	for side, allowed := range [][]brief.Pattern{f.South, f.North, f.West, f.East} {
		options := p.wallOptions(side, allowed, f.MaxBays)
		if p.onlyWalls != nil && side < longWalls {
			options = p.onlyWalls[side]
		}
		p.walls[side] = options
		if side >= longWalls && len(options) == 1 && len(options[0]) == 0 {
			continue
		}
		p.add(gene{
			Gene: optimize.Gene{
				Name:    shed.PlaneNames[side],
				Options: names(options, func(bs []shed.Brace) string { return describe(side, bs) }),
				Family:  wallFamilies(options),
			},
			apply: func(d *shed.Design, i int) { d.Walls[side] = options[i] },
			has:   func(d *shed.Design, i int) bool { return slices.Equal(options[i], d.Walls[side]) },
			idle:  never,
		})
	}
}

// habit ranks patterns by how readily a fabricator builds them: whole panels of rods, then diagonals, then the rest in the
// order of the candidates.
func habit(b shed.Brace) int {
	whole := b.Place == (bracing.Place{})
	switch {
	case b.Pattern == bracing.CrossedRods && whole:
		return 0
	case whole && (b.Pattern == bracing.RisingStrut || b.Pattern == bracing.FallingStrut):
		return 1
	case b.Pattern.Kind() == bracing.Knees:
		return 4
	case b.Pattern.Kind() == bracing.Portals:
		return 5
	case b.Bends(b.Pattern):
		return 3
	}
	return 2
}

// freeBraces are the free layouts of one wall among the allowed patterns, those of readier habit first.
func (p *Problem) freeBraces(side int, allowed []brief.Pattern) []shed.Brace {
	var out []shed.Brace
	for _, c := range p.Shed.Candidates(side) {
		if c.Free() && slices.Contains(allowed, shed.WordOf(c.Pattern)) {
			out = append(out, shed.Brace{Bay: c.Panel.Bay - 1, Pattern: c.Pattern, Place: c.Place})
		}
	}
	slices.SortStableFunc(out, func(a, b shed.Brace) int { return cmp.Compare(habit(a), habit(b)) })
	return out
}

// wallOptions lists the choices of one wall, the drawn one among them. Of two bays with one pattern, each takes its best
// place.
func (p *Problem) wallOptions(side int, allowed []brief.Pattern, most int) [][]shed.Brace {
	var single []shed.Brace
	if most >= 1 {
		single = p.freeBraces(side, allowed)
	}
	var out [][]shed.Brace
	if slices.Contains(allowed, brief.NoBracing) || len(single) == 0 {
		out = append(out, nil)
	}
	for _, b := range single {
		out = append(out, []shed.Brace{b})
	}
	if most >= 2 {
		best := bestPlaces(single)
		for i, a := range best {
			for _, b := range best[i+1:] {
				if a.Bay < b.Bay && pairs(a, b) {
					out = append(out, []shed.Brace{a, b})
				} else if pairs(a, b) && b.Bay < a.Bay {
					out = append(out, []shed.Brace{b, a})
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

// pairs says whether two braces make one type: the same pattern, or single diagonals that lean towards or away from each
// other.
func pairs(a, b shed.Brace) bool {
	single := func(p bracing.Pattern) bool { return p == bracing.RisingStrut || p == bracing.FallingStrut }
	return a.Pattern == b.Pattern || single(a.Pattern) && single(b.Pattern)
}

// bestPlaces keeps the first brace of each bay and pattern.
func bestPlaces(list []shed.Brace) []shed.Brace {
	type slot struct {
		bay     int
		pattern bracing.Pattern
	}
	seen := map[slot]bool{}
	var out []shed.Brace
	for _, b := range list {
		if k := (slot{b.Bay, b.Pattern}); !seen[k] {
			seen[k] = true
			out = append(out, b)
		}
	}
	return out
}

// describe names a wall's bracing.
func describe(side int, bs []shed.Brace) string {
	if len(bs) == 0 {
		return "none"
	}
	text := ""
	for i, b := range bs {
		if i > 0 {
			text += " + "
		}
		text += b.InPlane(side)
	}
	return text
}

// kinds are the types of bracing in the order of families; no bracing comes first.
var kinds = []bracing.Kind{"", bracing.Rods, bracing.Diagonals, bracing.Knees, bracing.Portals}

// kindOf is a wall's type of bracing.
func kindOf(w []shed.Brace) bracing.Kind {
	if len(w) == 0 {
		return ""
	}
	return w[0].Pattern.Kind()
}

// wallFamilies groups a wall's options by type.
func wallFamilies(options [][]shed.Brace) []int {
	out := make([]int, len(options))
	for i, o := range options {
		out[i] = slices.Index(kinds, kindOf(o))
	}
	return out
}

// addRoof frees the braced bays of the roof (one or two), their pattern, and the struts.
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
	p.addRoofPattern()
	p.addStruts()
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

// roofWords are the brief's words for the patterns of the roof; crossed rods are the design's zero value.
var roofWords = []struct {
	word    brief.Pattern
	pattern bracing.Pattern
}{{brief.CrossedRods, ""}, {brief.SingleStrut, bracing.SingleDiagonal}, {brief.ZigZag, bracing.ZigZag}}

// roofPatterns are the allowed patterns of the roof, the drawn one among them.
func (p *Problem) roofPatterns() []bracing.Pattern {
	var out []bracing.Pattern
	for _, r := range roofWords {
		drawn := r.pattern == p.Drawn.RoofPattern && len(p.Drawn.Roof) > 0
		if drawn || slices.Contains(p.Brief.Freedoms.Bracing.Roof, r.word) {
			out = append(out, r.pattern)
		}
	}
	if len(out) == 0 {
		out = append(out, "")
	}
	return out
}

// addRoofPattern frees the pattern of the roof's braced bays.
func (p *Problem) addRoofPattern() {
	patterns := p.roofPatterns()
	p.add(gene{
		Gene: optimize.Gene{Name: "roof pattern", Options: names(patterns, func(v bracing.Pattern) string {
			return string(cmp.Or(v, bracing.CrossedRods))
		})},
		apply: func(d *shed.Design, i int) { d.RoofPattern = patterns[i] },
		has:   func(d *shed.Design, i int) bool { return d.RoofPattern == patterns[i] },
		idle:  func(d *shed.Design) bool { return len(d.Roof) == 0 },
	})
}

// addStruts frees the struts at the ridge and at the nodes of the roof bracing.
func (p *Problem) addStruts() {
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
}

// openFrames says whether rafters may be of open section; hollow ones need no fly braces.
func (p *Problem) openFrames() bool {
	r := p.Drawn.Of(brief.GroupRafter).Section
	return r != nil && (r.Family == catalog.UB || r.Family == catalog.PFC)
}

// repairWalls applies the brief's wishes for one type of bracing and for common bays, where the openings allow them without
// making the frames' columns bend for it.
func (p *Problem) repairWalls(d *shed.Design) {
	f := &p.Brief.Freedoms.Bracing
	south, north := kindOf(d.Walls[0]), kindOf(d.Walls[1])
	if f.SameType && south != "" && north != "" && south != north {
		d.Walls[1] = p.agreeing(1, d.Walls[1], func(o []shed.Brace) bool { return kindOf(o) == south })
	}
	if !f.SameBay {
		return
	}
	for side, w := range d.Walls[:longWalls] {
		if len(w) == 0 || inBays(w, d.Roof) {
			continue
		}
		d.Walls[side] = p.agreeing(side, w, func(o []shed.Brace) bool {
			return len(o) == len(w) && o[0].Pattern == w[0].Pattern && inBays(o, d.Roof)
		})
	}
}

// agreeing is the first braced option of a wall that agrees and bends no columns unless the one it has does, or else that.
func (p *Problem) agreeing(side int, has []shed.Brace, agrees func([]shed.Brace) bool) []shed.Brace {
	for _, o := range p.walls[side] {
		if len(o) > 0 && agrees(o) && (!bends(o) || bends(has)) {
			return o
		}
	}
	return has
}

// bends says whether a wall's bracing bends the frames' columns.
func bends(w []shed.Brace) bool {
	return slices.ContainsFunc(w, func(b shed.Brace) bool { return b.Bends(b.Pattern) })
}

func inBays(w []shed.Brace, bays []int) bool {
	for _, b := range w {
		if !slices.Contains(bays, b.Bay) {
			return false
		}
	}
	return true
}
