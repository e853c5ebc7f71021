package shed

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"leanbay/model/bracing"
	"leanbay/model/brief"
)

// Departure is one thing that a design has otherwise than the drawing.
type Departure struct {
	Kind   string // "section", "brace", "prop", "strut", "spacing"
	Text   string // in words that one would send to the fabricator
	Weight float64
}

// The kinds of departures, in the order of lists.
const (
	DepartSection = "section"
	DepartBrace   = "brace"
	DepartProp    = "prop"
	DepartStrut   = "strut"
	DepartSpacing = "spacing"
)

// Departures lists what d has otherwise than the drawn design, with the weights of the brief: sections by group, panels of
// bracing, props, lines of struts, spacings. A group that the drawing does not have is no change of section: what is made of
// it is counted as what it is. The secondaries are those of each, nil where the drawing leaves the choice open.
func (s *Shed) Departures(drawn, d *Design, drawnSec, sec SecondarySections) []Departure {
	w := &s.brief.Objectives.Departures
	out := s.sectionDepartures(drawn, d, w.Section)
	for _, g := range []brief.Group{brief.GroupPurlin, brief.GroupGirt, brief.GroupJoist} {
		a, b := drawnSec.Of(g), sec.Of(g)
		if a != nil && b != nil && a != b && s.brief.Proposal.Sections[g].Section != "" {
			out = append(out, Departure{DepartSection, fmt.Sprintf("%s: %s instead of %s", g, b.Name, a.Name), w.Section})
		}
	}
	out = append(out, s.wallDepartures(drawn, d, w.Brace)...)
	out = append(out, s.roofDepartures(drawn, d, w.Brace)...)
	out = append(out, propDepartures(drawn, d, len(s.Frames), w.Prop)...)
	out = append(out, s.strutDepartures(drawn, d, w.Strut)...)
	return append(out, spacingDepartures(drawn, d, w.Spacing)...)
}

// TotalWeight sums the weights of departures.
func TotalWeight(list []Departure) float64 {
	sum := 0.0
	for _, d := range list {
		sum += d.Weight
	}
	return sum
}

func (s *Shed) sectionDepartures(drawn, d *Design, weight float64) []Departure {
	before := s.UsedGroups(drawn)
	var out []Departure
	for _, g := range s.UsedGroups(d) {
		a, b := drawn.Of(g), d.Of(g)
		end := g == brief.GroupEndColumn || g == brief.GroupEndRafter // following the inner frames unless they have their own
		if !slices.Contains(before, g) && !end || a.Section == nil || a.Section == b.Section && a.Grade.Name == b.Grade.Name {
			continue
		}
		out = append(out, Departure{DepartSection, fmt.Sprintf("%s: %s instead of %s", g, b, a), weight})
	}
	return out
}

// wallDepartures compares bay by bay: a panel added, taken out, or of another pattern or place is one departure.
func (s *Shed) wallDepartures(drawn, d *Design, weight float64) []Departure {
	var out []Departure
	for side, name := range PlaneNames {
		for bay := range len(s.Uprights(side)) - 1 {
			a, b := inBay(drawn.Walls[side], bay), inBay(d.Walls[side], bay)
			onlyA, onlyB := without(a, b), without(b, a)
			for k := range max(len(onlyA), len(onlyB)) {
				var text string
				switch {
				case k >= len(onlyA):
					text = fmt.Sprintf("%s: add %s", name, onlyB[k].InPlane(side))
				case k >= len(onlyB):
					text = fmt.Sprintf("%s: leave out %s", name, onlyA[k].InPlane(side))
				default:
					text = fmt.Sprintf("%s: %s instead of %s", name, onlyB[k].InPlane(side), onlyA[k].Pattern)
				}
				out = append(out, Departure{DepartBrace, text, weight})
			}
		}
	}
	return out
}

func inBay(list []Brace, bay int) []Brace {
	var out []Brace
	for _, b := range list {
		if b.Bay == bay {
			out = append(out, b)
		}
	}
	return out
}

// without lists the entries of a that b has not.
func without(a, b []Brace) []Brace {
	var out []Brace
	for _, x := range a {
		if !slices.Contains(b, x) {
			out = append(out, x)
		}
	}
	return out
}

// roofDepartures compares the braced bays: one departure for each that comes, goes, changes its pattern, or whose bracing
// meets the rafters elsewhere.
func (s *Shed) roofDepartures(drawn, d *Design, weight float64) []Departure {
	pattern := func(x *Design) bracing.Pattern { return cmp.Or(x.RoofPattern, bracing.CrossedRods) }
	var out []Departure
	note := func(text string, args ...any) {
		out = append(out, Departure{DepartBrace, fmt.Sprintf(text, args...), weight})
	}
	for bay := range s.bays() {
		had, has := slices.Contains(drawn.Roof, bay), slices.Contains(d.Roof, bay)
		switch {
		case has && !had:
			note("roof: add %s in bay %d", pattern(d), bay+1)
		case had && !has:
			note("roof: leave out the bracing of bay %d", bay+1)
		case !has:
		case pattern(d) != pattern(drawn):
			note("roof bay %d: %s instead of %s", bay+1, pattern(d), pattern(drawn))
		case !slices.EqualFunc(s.PanelPoints(bay, d), s.PanelPoints(bay, drawn), near):
			note("roof bay %d: the bracing meets the rafters at Y %s", bay+1, listed(s.innerPoints(bay, d)))
		}
	}
	return out
}

// innerPoints are the panel points of a braced bay between the eaves.
func (s *Shed) innerPoints(bay int, d *Design) []float64 {
	points := s.PanelPoints(bay, d)
	return points[1 : len(points)-1]
}

// listed writes positions for a sentence.
func listed(ys []float64) string {
	var out []string
	for _, y := range ys {
		out = append(out, fmt.Sprintf("%.2f", y))
	}
	return strings.Join(out, ", ")
}

// propDepartures compares frame by frame; a prop that goes and another that comes in one frame is a prop that moved.
func propDepartures(drawn, d *Design, frames int, weight float64) []Departure {
	var out []Departure
	for f := range frames {
		gone, come := propsOnly(drawn, d, f), propsOnly(d, drawn, f)
		for k := range max(len(gone), len(come)) {
			var text string
			switch {
			case k >= len(gone):
				text = fmt.Sprintf("frame %d: add a prop at Y %.2f", f+1, come[k])
			case k >= len(come):
				text = fmt.Sprintf("frame %d: leave out the prop at Y %.2f", f+1, gone[k])
			default:
				text = fmt.Sprintf("frame %d: move the prop from Y %.2f to %.2f", f+1, gone[k], come[k])
			}
			out = append(out, Departure{DepartProp, text, weight})
		}
	}
	return out
}

// propsOnly are the Y of the props of frame f that a has and b has not.
func propsOnly(a, b *Design, f int) []float64 {
	var out []float64
	for _, line := range a.Props {
		if slices.Contains(line.Frames, f) && !b.hasProp(f, line.Y) {
			out = append(out, line.Y)
		}
	}
	return out
}

// strutDepartures compares the lines of struts along the roof, wherever they begin and end.
func (s *Shed) strutDepartures(drawn, d *Design, weight float64) []Departure {
	a, b := s.strutYs(drawn), s.strutYs(d)
	var out []Departure
	for _, y := range b {
		if !slices.ContainsFunc(a, func(v float64) bool { return near(v, y) }) {
			out = append(out, Departure{DepartStrut, "add struts at " + s.strutPlace(y) + s.strutExtent(d, y), weight})
		}
	}
	for _, y := range a {
		if !slices.ContainsFunc(b, func(v float64) bool { return near(v, y) }) {
			out = append(out, Departure{DepartStrut, "leave out the struts at " + s.strutPlace(y), weight})
		}
	}
	return out
}

// strutExtent says between which frames the struts at y run.
func (s *Shed) strutExtent(d *Design, y float64) string {
	var out []string
	for _, l := range s.strutLines(d) {
		switch {
		case !near(l.y, y):
		case l.from == 0 && l.to == len(s.Frames)-1:
			return " from end to end"
		default:
			out = append(out, fmt.Sprintf("%d to %d", l.from+1, l.to+1))
		}
	}
	return ", frames " + strings.Join(out, " and ")
}

func (s *Shed) strutYs(d *Design) []float64 {
	var out []float64
	for _, l := range s.strutLines(d) {
		out = append(out, l.y)
	}
	return distinct(out)
}

// strutPlace names where a line of struts runs.
func (s *Shed) strutPlace(y float64) string {
	switch {
	case near(y, 0):
		return "the south eaves"
	case near(y, s.Span):
		return "the north eaves"
	case near(y, s.RidgeY):
		return "the ridge"
	}
	return fmt.Sprintf("Y %.2f", y)
}

func spacingDepartures(drawn, d *Design, weight float64) []Departure {
	var out []Departure
	if math.Abs(d.PurlinSpacing-drawn.PurlinSpacing) > 1e-6 {
		out = append(out, Departure{DepartSpacing, fmt.Sprintf("purlins at %.2f m instead of %.2f m", d.PurlinSpacing, drawn.PurlinSpacing), weight})
	}
	if math.Abs(d.GirtSpacing-drawn.GirtSpacing) > 1e-6 {
		out = append(out, Departure{DepartSpacing, fmt.Sprintf("girts at %.2f m instead of %.2f m", d.GirtSpacing, drawn.GirtSpacing), weight})
	}
	if d.SecondaryWind != drawn.SecondaryWind { // of no weight: where it makes other sections of the drawn ones, these count
		out = append(out, Departure{DepartSpacing, fmt.Sprintf("secondaries %s instead of %s", SecondaryWindText(d.SecondaryWind), SecondaryWindText(drawn.SecondaryWind)), 0})
	}
	if d.FlyBraces != drawn.FlyBraces {
		out = append(out, Departure{DepartSpacing, fmt.Sprintf("fly braces %s instead of %s", flyText(d.FlyBraces), flyText(drawn.FlyBraces)), weight})
	}
	return out
}

func flyText(n int) string {
	if n == 0 {
		return "nowhere"
	}
	return fmt.Sprintf("at every %d. purlin", n)
}
