package shedspace

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"leanbay/catalog"
	"leanbay/model/actions"
	"leanbay/model/actions/asnzs1170"
	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/solver"
	"leanbay/solver/checks"
	"leanbay/solver/checks/asnzs4600"
)

// Secondaries are the purlins, girts and joists of a pair of spacings and a wind, with the check that governs each.
type Secondaries struct {
	Sections shed.SecondarySections
	Results  []SecondaryResult
	trimmers map[trimmerKind]trimmerSteel
}

// SecondaryResult is one secondary group: what was asked, what was chosen, and the governing check.
type SecondaryResult struct {
	Group  string
	Member string // "Z20015 at 1.20 m, 5 spans of 5.60 m, 2 rows of bridging"
	Need   asnzs4600.Need
	checks.Result
}

// permanentStrength and its fellows are the factors of AS/NZS 1170.0 4.2.2 that secondaries' loads are made with.
const (
	permanentStrength = 1.2
	permanentUplift   = 0.9
	imposedStrength   = 1.5
	roofShortTerm     = 0.7 // ψs of other roofs, AS/NZS 1170.0 Table 4.1
)

// envelope is the worst wind on purlins or girts (Pa): at large, and on a stretch of a local zone.
type envelope struct {
	in, out, edgeIn, edgeOut float64
	serviceIn, serviceOut    float64
	edge                     float64 // m
}

// chooseSecondaries finds the lightest passing purlin, girt and joist for a pair of spacings, under the wind that they are to
// be sized for (their results are under that wind too, and where nothing of the stock passes it the design fails); where the proposal draws one
// and keep is set, that one is checked instead.
func (p *Problem) chooseSecondaries(b *bench, sp spacings, keep bool) (Secondaries, error) {
	roof, err := p.windOn(b, p.Shed.PurlinSpans(sp.purlin), sp.wind)
	if err != nil {
		return Secondaries{}, err
	}
	wall, err := p.windOn(b, p.Shed.GirtSpans(sp.girt), sp.wind)
	if err != nil {
		return Secondaries{}, err
	}
	var out Secondaries
	for _, want := range []struct {
		group brief.Group
		need  asnzs4600.Need
		given brief.Lines
		into  **catalog.Section
		skip  bool
	}{
		{brief.GroupPurlin, p.purlinNeed(b, roof, sp.purlin), p.Brief.Building.Secondary.Purlins, &out.Sections.Purlin, false},
		{brief.GroupGirt, p.girtNeed(wall, sp.girt), p.Brief.Building.Secondary.Girts, &out.Sections.Girt, len(p.Shed.Building.OpenFaces) >= 4},
		{brief.GroupJoist, p.joistNeed(), brief.Lines{Family: "C"}, &out.Sections.Joist, len(p.Shed.Mezzanines) == 0},
	} {
		if want.skip {
			continue
		}
		var drawn *catalog.Section
		if c := p.Drawn.Of(want.group); keep && c.Section != nil {
			drawn = c.Section
		}
		if want.group == brief.GroupJoist && drawn == nil {
			want.need = stiffJoist(want.need, float64(p.Brief.Limits.FloorTest))
		}
		r, err := b.secondary(p.Brief, want.group, want.need, want.given, drawn)
		if err != nil {
			return Secondaries{}, fmt.Errorf("%s: %w", want.group, err)
		}
		*want.into = r.Section
		one := describeSecondary(want.group, want.need, r)
		if want.group != brief.GroupJoist { // no wind reaches the floors
			one.Member += forWind(sp.wind)
		}
		out.Results = append(out.Results, one)
	}
	return out, nil
}

// secondary looks a need up in the table of the group's stock, or checks the drawn section alone. A need that no section
// meets keeps the best one, whose utilisation above 1 then counts.
func (b *bench) secondary(br *brief.Brief, g brief.Group, n asnzs4600.Need, lines brief.Lines, drawn *catalog.Section) (*asnzs4600.RunResult, error) {
	key := string(g)
	list := []*catalog.Section{drawn}
	if drawn == nil {
		list = secondaryStock(br, g, lines)
	} else {
		key += "/" + drawn.Name
	}
	t := b.tables[key]
	if t == nil {
		t = asnzs4600.NewTable(b.coldFormed, b.stock, list)
		b.tables[key] = t
	}
	r, err := t.Lightest(n)
	if errors.Is(err, asnzs4600.ErrNonePasses) {
		return r, nil
	}
	return r, err
}

// secondaryStock are the lipped sections of the brief's family and depth.
func secondaryStock(b *brief.Brief, g brief.Group, lines brief.Lines) []*catalog.Section {
	var out []*catalog.Section
	if rule, ok := b.Freedoms.Stock[g]; ok && len(rule.Sections) > 0 {
		for _, n := range rule.Sections {
			if s, err := b.Library().Find(n); err == nil {
				out = append(out, s)
			}
		}
		return out
	}
	for _, s := range b.Library().ByFamily(catalog.Family(lines.Family)) {
		if lines.Depth == 0 || math.Abs(s.Dims.D-float64(lines.Depth)) < 0.006 { // nominal depths are within 6 mm of the steel
			out = append(out, s)
		}
	}
	return out
}

func describeSecondary(g brief.Group, n asnzs4600.Need, r *asnzs4600.RunResult) SecondaryResult {
	text := fmt.Sprintf("%s at %.2f m, span %.2f m", r.Section.Name, n.Spacing, n.Span)
	if n.Continuous {
		text = fmt.Sprintf("%s at %.2f m, %d lapped spans of up to %.2f m", r.Section.Name, n.Spacing, n.Spans, n.Span)
	}
	if n.Bridging > 0 {
		text += fmt.Sprintf(", %d rows of bridging", n.Bridging)
	}
	return SecondaryResult{Group: string(g), Member: text, Need: n, Result: r.Governing}
}

// windOn is the worst wind on a set of spans, in the ultimate and the service wind: at large, and on the stretch that a
// local zone raises, with that stretch's greatest length. Service pressures have no local factors.
// The wind is that of a factor on the site wind speed, as in spacings.
func (p *Problem) windOn(b *bench, spans []shed.SecondarySpan, factor float64) (envelope, error) {
	at, err := p.blow(b, factor)
	if err != nil {
		return envelope{}, err
	}
	var e envelope
	for _, s := range spans {
		for _, c := range at.local.Line(s.Face, s.V, s.U0, s.U1, s.Width) {
			e.add(c.Stretches)
		}
	}
	for _, c := range at.cases {
		if c.Kind != solver.KindWindService {
			continue
		}
		for _, patch := range c.Patches {
			if faceOf(spans, patch.Face) {
				e.serviceIn, e.serviceOut = math.Max(e.serviceIn, patch.Pressure), math.Max(e.serviceOut, -patch.Pressure)
			}
		}
	}
	return e, nil
}

func faceOf(spans []shed.SecondarySpan, f actions.Face) bool {
	return slices.ContainsFunc(spans, func(s shed.SecondarySpan) bool { return s.Face == f })
}

// add takes one alternative along a span: its peak counts on the peak's length, the rest at large.
func (e *envelope) add(st []asnzs1170.Stretch) {
	for _, sign := range []float64{1, -1} {
		peak, length, rest := 0.0, 0.0, 0.0
		for _, s := range st {
			peak = math.Max(peak, sign*s.Pressure)
		}
		for _, s := range st {
			if p := sign * s.Pressure; p == peak {
				length += s.To - s.From
			} else {
				rest = math.Max(rest, p)
			}
		}
		if rest == 0 {
			rest = peak // one pressure all along
		}
		if sign > 0 {
			e.in, e.edgeIn = math.Max(e.in, rest), math.Max(e.edgeIn, peak)
		} else {
			e.out, e.edgeOut = math.Max(e.out, rest), math.Max(e.edgeOut, peak)
		}
		if peak > rest {
			e.edge = math.Max(e.edge, length)
		}
	}
}

// longestBay is the greatest distance between frames.
func (p *Problem) longestBay() float64 {
	longest := 0.0
	for i := 1; i < len(p.Shed.Frames); i++ {
		longest = math.Max(longest, p.Shed.Frames[i]-p.Shed.Frames[i-1])
	}
	return longest
}

// purlinNeed is the governing purlin: the longest bay's span over all bays, permanent and imposed action, and the worst
// wind of the roof with its edge zone.
func (p *Problem) purlinNeed(b *bench, wind envelope, spacing float64) asnzs4600.Need {
	lines := p.Brief.Building.Secondary.Purlins
	bl := p.Shed.Building
	span := p.longestBay()
	pitch := bl.Pitch(actions.SouthRoof)
	cos, sin := math.Cos(pitch), math.Sin(pitch)
	imposed := b.pack.RoofImposed(nil, span*spacing)
	dead := bl.RoofDead*cos + bl.RoofExtra*cos*cos
	gravity := math.Max(permanentStrength*dead+imposedStrength*imposed*cos*cos, permanentStrength*dead+wind.in)
	least := permanentUplift * bl.RoofDead * cos
	n := asnzs4600.Need{
		Role: "purlin", Span: span, Spans: len(p.Shed.Frames) - 1, Continuous: lines.Lap > 0, Spacing: spacing,
		Bridging: lines.MaxBridging, SheetHolds: p.Brief.Building.Diaphragm, Slope: pitch,
		Inward: gravity, EdgeInward: math.Max(gravity, permanentStrength*dead+wind.edgeIn), Outward: math.Max(0, wind.out-least), EdgeOutward: math.Max(0, wind.edgeOut-least), Edge: wind.edge,
		Along:     (permanentStrength*(bl.RoofDead+bl.RoofExtra*cos) + imposedStrength*imposed*cos) * sin,
		ServiceIn: math.Max(dead+roofShortTerm*imposed*cos*cos, dead+wind.serviceIn), ServiceOut: wind.serviceOut,
		Deflect: float64(p.Brief.Limits.PurlinWind),
	}
	if n.Continuous {
		n.Lap = math.Max(lines.Lap*span, float64(lines.MinLap))
	}
	return n
}

// girtNeed is the governing girt: simple spans, since doors and windows cut the lines.
func (p *Problem) girtNeed(wind envelope, spacing float64) asnzs4600.Need {
	span := 0.0
	for _, s := range p.Shed.GirtSpans(spacing) {
		span = math.Max(span, s.Length)
	}
	return asnzs4600.Need{
		Role: "girt", Span: span, Spans: 1, Spacing: spacing, Bridging: p.Brief.Building.Secondary.Girts.MaxBridging,
		SheetHolds: p.Brief.Building.Diaphragm, Slope: math.Pi / 2,
		Inward: wind.in, Outward: wind.out, EdgeInward: wind.edgeIn, EdgeOutward: wind.edgeOut, Edge: wind.edge,
		Along:     permanentStrength * p.Shed.Building.WallDead,
		ServiceIn: wind.serviceIn, ServiceOut: wind.serviceOut, Deflect: float64(p.Brief.Limits.GirtWind),
	}
}

// joistNeed is the governing joist of all floors: simple spans, with the floor holding its top flange where the brief
// calls it a diaphragm, else two rows of blocking.
func (p *Problem) joistNeed() asnzs4600.Need {
	var worst asnzs4600.Need
	for i := range p.Shed.Mezzanines {
		m := &p.Shed.Mezzanines[i]
		f := &p.Shed.Building.Floors[m.Floor]
		imposed := p.bench.floorImposed(p.Shed, m.Floor)
		n := asnzs4600.Need{
			Role: "joist", Span: p.Shed.JoistSpan(m), Spans: 1, Spacing: m.JoistSpacing, Bridging: 2, SheetHolds: m.Diaphragm, Bearing: joistSeat(p.Brief),
			Inward: permanentStrength*f.Permanent + imposedStrength*imposed, ServiceIn: imposed, Deflect: float64(p.Brief.Limits.FloorImposed),
		}
		if n.Span*n.Span*n.Inward*n.Spacing > worst.Span*worst.Span*worst.Inward*worst.Spacing {
			worst = n
		}
	}
	return worst
}
