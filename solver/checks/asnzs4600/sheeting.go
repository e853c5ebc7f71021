package asnzs4600

import (
	"fmt"

	"leanbay/catalog"
	"leanbay/solver/checks"
)

// Sheeting describes through-fastened sheeting and the run of purlins under it, for the R-factor of 3.3.3.4.
type Sheeting struct {
	ScrewFastened bool
	ClipFixed     bool    // concealed-fixed: no R-factor exists
	PanSpacing    float64 // m, screws along the purlin
	Thickness     float64 // m, base metal of the sheeting
	Spans         int     // 1; 2; 3 or more
	Lapped        bool
	LapRatio      float64 // lap over the span
	SpanRatio     float64 // shortest over longest of adjacent spans
	Bridging      int     // rows in a span
	Uplift        bool
	Axial         bool // the purlin also carries axial force
}

// sheetingRow is one row of R.
type sheetingRow struct {
	uplift bool
	spans  int        // 1, 2, 3 (three or more, lapped)
	r      [3]float64 // no bridging row, one, two or more
	clause string
	mark   string
}

// sheetingRows are the factors R of 3.3.3.4 (2005 numbering): from memory, searched for and not confirmed by any source.
var sheetingRows = []sheetingRow{
	{true, 1, [3]float64{0.75, 0.85, 1.00}, "AS/NZS 4600 3.3.3.4 (single span, uplift)", checks.MarkDoubtful},
	{true, 2, [3]float64{0.60, 0.70, 0.80}, "AS/NZS 4600 3.3.3.4 (double span, uplift)", checks.MarkDoubtful},
	{true, 3, [3]float64{0.75, 0.85, 0.95}, "AS/NZS 4600 3.3.3.4 (three or more spans, lapped, uplift)", checks.MarkDoubtful},
	{false, 2, [3]float64{0.85, 0.85, 0.85}, "AS/NZS 4600 3.3.3.4 (continuous, downward)", checks.MarkDoubtful},
	{false, 3, [3]float64{0.85, 0.85, 0.85}, "AS/NZS 4600 3.3.3.4 (continuous, downward)", checks.MarkDoubtful},
}

// condition is one condition of the R-factor; all are from memory and doubtful, taken on the narrow side.
type condition struct {
	what string
	ok   func(s *catalog.Section, h Sheeting) bool
}

// conditions of 3.3.3.4 [doubtful]. The figures for lap and adjacent spans are those of the working notes; the limits of
// shape are on the narrow side of the tested sections.
var conditions = []condition{
	{"no axial force: R is for bending only", func(_ *catalog.Section, h Sheeting) bool { return !h.Axial }},
	{"sheeting screwed through its pans, not clip-fixed", func(_ *catalog.Section, h Sheeting) bool { return h.ScrewFastened && !h.ClipFixed }},
	{"screws at most 200 mm apart along the purlin", func(_ *catalog.Section, h Sheeting) bool { return h.PanSpacing > 0 && h.PanSpacing <= 0.2001 }},
	{"sheeting of at least 0.42 mm base metal", func(_ *catalog.Section, h Sheeting) bool { return h.Thickness >= 0.42e-3-1e-9 }},
	{"depth at most 350 mm", func(s *catalog.Section, _ Sheeting) bool { return s.Dims.D <= 0.350 }},
	{"depth/thickness from 60 to 170", func(s *catalog.Section, _ Sheeting) bool { return s.Dims.D/s.Dims.T >= 60 && s.Dims.D/s.Dims.T <= 170 }},
	{"depth/flange from 2.0 to 5.0", func(s *catalog.Section, _ Sheeting) bool { return s.Dims.D/s.Dims.B >= 2.0 && s.Dims.D/s.Dims.B <= 5.0 }},
	{"flat flange/thickness of at least 25", func(s *catalog.Section, _ Sheeting) bool {
		return (s.Dims.B-2*(s.Dims.T+s.Dims.Ri))/s.Dims.T >= 25
	}},
	{"laps of at least 13 % of the span on three or more spans", func(_ *catalog.Section, h Sheeting) bool { return h.Spans < 3 || (h.Lapped && h.LapRatio >= 0.13) }},
	{"adjacent spans within 20 % of each other", func(_ *catalog.Section, h Sheeting) bool { return h.Spans < 2 || h.SpanRatio >= 0.8 }},
}

// SheetingFactor is R of 3.3.3.4: Mb = R·Ms. Outside the conditions it is refused, and the error says by which.
func (c *Code) SheetingFactor(s *catalog.Section, h Sheeting, w *checks.Working) (float64, error) {
	for _, k := range conditions {
		if !k.ok(s, h) {
			return 0, fmt.Errorf("sheeting factor R refused for %s: it needs %s; the lateral buckling analysis with bridging rows applies instead", s.Name, k.what)
		}
	}
	rows := min(max(h.Bridging, 0), 2)
	for i := range sheetingRows {
		r := &sheetingRows[i]
		if r.uplift == h.Uplift && r.spans == min(h.Spans, 3) {
			if w != nil {
				w.Add(checks.Step{Clause: r.clause, Symbol: "R", Formula: "row of the table", Numbers: fmt.Sprintf("%d bridging rows", h.Bridging), Value: r.r[rows], Unit: "-", Mark: r.mark})
			}
			return r.r[rows], nil
		}
	}
	return 0, fmt.Errorf("sheeting factor R refused for %s: no row for %d span(s), uplift %v", s.Name, h.Spans, h.Uplift)
}
