package drawings

import (
	"fmt"
	"html"
	"math"
	"slices"
	"strings"

	"leanbay/model/shed"
	"leanbay/solver"
)

// SVG is a drawing: a whole SVG document. Every element that stands for something has a class, and members carry their id
// in data-member, so that a reader of the file can find them.
type SVG []byte

// lineKind is a kind of line: its class, its style, and what the key says of it. Line types follow ISO 128-2: continuous
// thick for what is seen, dashed for what pulls only or lies behind, long-dashed dotted for grid lines, long-dashed
// double-dotted for what is kept free. Colours are told apart by eyes of every kind of colour vision, and are never the
// only difference.
type lineKind struct{ class, style, text string }

// lineKinds in the order of the key. Kinds without text are not in the key.
var lineKinds = []lineKind{
	{"frame", "stroke:#1e1e1e;stroke-width:3", "column, rafter, mullion, prop, post; rigid frame"},
	{"beam", "stroke:#00694c;stroke-width:3", "mezzanine beam"},
	{"strut", "stroke:#0072b2;stroke-width:2.2", "strut"},
	{"diagonal", "stroke:#0072b2;stroke-width:2.2;stroke-dasharray:14 3", "diagonal strut: pulls and pushes"},
	{"rod", "stroke:#c04f00;stroke-width:1.5;stroke-dasharray:7 4", "rod: pulls only"},
	{"same", "stroke:#8c8c8c;stroke-width:1.2", "as before"},
	{"changed", "stroke:#0072b2;stroke-width:3;stroke-dasharray:16 4 3 4", "~ other section or grade"},
	{"added", "stroke:#00694c;stroke-width:3.6", "+ added"},
	{"removed", "stroke:#c04f00;stroke-width:2;stroke-dasharray:3 4", "- removed"},
	{"free", "stroke:#0072b2;stroke-width:2.4", "brace line clear of every obstacle"},
	{"blocked", "stroke:#c04f00;stroke-width:1.2;stroke-dasharray:3 4", "blocked brace line; × where"},
	{"pull", "stroke:#c04f00;stroke-width:2.4;stroke-dasharray:12 3", "pulls (figures in kN)"},
	{"push", "stroke:#0072b2;stroke-width:2.4", "pushes (figures in kN)"},
	{"idle", "stroke:#8c8c8c;stroke-width:1.2", "carries nothing here"},
	{"arrow", "stroke:#7a5195;stroke-width:2;fill:#7a5195", "push of a mullion's head, or what a foot takes"},
	{"purlin", "stroke:#8c8c8c;stroke-width:.8", "purlin"},
	{"opening", "stroke:#505050;stroke-width:1;fill:#e9eef2", "door or window"},
	{"clearance", "stroke:#505050;stroke-width:.7;stroke-dasharray:4 3", "obstacle with clearance"},
	{"floor", "stroke:#00694c;stroke-width:.8;stroke-dasharray:6 3;fill:#eef5f0", "edge of a mezzanine"},
	{"zone", "stroke:#7a5195;stroke-width:1;stroke-dasharray:14 3 2 3 2 3", "kept free of steel"},
	{"outline", "stroke:#707070;stroke-width:.9", "outline of cladding"},
	{"grid", "stroke:#909090;stroke-width:.7;stroke-dasharray:16 4 2 4", "frame or column line"},
	{"flange", "stroke:#1e1e1e;stroke-width:1.6", "flange"},
	{"held", "stroke:#0072b2;stroke-width:2.6", "flange held here"},
	{"dim", "stroke:#505050;stroke-width:.6", ""},
	{"piece", "stroke:#1e1e1e;stroke-width:1.3;fill:#f4f4f4", "member at its depth"},
	{"upright", "stroke:#1e1e1e;stroke-width:1.3;fill:none", "column, prop, mullion or post in plan"},
	{"endon", "stroke:#0072b2;stroke-width:1.3;fill:#ffffff", "strut or beam seen from its end"},
	{"node", "stroke:#1e1e1e;stroke-width:1;fill:#1e1e1e", "node of the roof bracing"},
	{"foot", "stroke:#1e1e1e;stroke-width:1.2;fill:#ffffff", "foot, pinned"},
	{"footheld", "stroke:#1e1e1e;stroke-width:1.2;fill:#1e1e1e", "foot, held against turning"},
}

// families are faces of equal widths; text is placed by charWidth of them.
const families = "Liberation Sans, Arimo, Arial, Helvetica, sans-serif"

// charWidth is the mean width of a character over the size of the type, on the safe side for these faces.
const charWidth = 0.55

// Sizes on the sheet (px).
const (
	edge       = 40.0
	leastWidth = 1180.0
	headHeight = 84.0
	textSize   = 11.0
	rowHeight  = 17.0
)

// drawing collects a drawing: content in the middle, then title, key, schedule, scale bar and caution around it.
type drawing struct {
	body     strings.Builder
	width    float64
	bottom   float64 // lowest y of the content
	title    string
	subtitle string
	scale    float64 // px per m, for the scale bar; 0 leaves it out
	plan     bool    // has a north arrow
	bearing  float64 // rad, of X clockwise from north
	used     map[string]bool
	sched    *schedule
	shown    map[string]bool // marks on this sheet
	notes    []string
	table    []string // lines beneath the content, as they are
}

// newDrawing begins a sheet about a shed.
func newDrawing(s *shed.Shed, title string, width float64) *drawing {
	return &drawing{
		title: s.Name + ": " + title, subtitle: s.Title(), width: math.Max(width, leastWidth), bearing: s.Site.BearingX,
		used: map[string]bool{}, shown: map[string]bool{}, bottom: headHeight,
	}
}

// reach notes that content goes down to y.
func (s *drawing) reach(y float64) { s.bottom = math.Max(s.bottom, y) }

// use notes that a kind of line is on the sheet.
func (s *drawing) use(class string) {
	if !s.used[class] && !slices.ContainsFunc(lineKinds, func(k lineKind) bool { return k.class == class }) {
		panic("drawings: no line kind " + class)
	}
	s.used[class] = true
}

// attr writes the data attribute and the tool tip of an element.
func attr(id, tip string) (data, inner string) {
	if id != "" {
		data = fmt.Sprintf(` data-member="%s"`, html.EscapeString(id))
	}
	if tip != "" {
		inner = "<title>" + html.EscapeString(tip) + "</title>"
	}
	return data, inner
}

// line draws a line of a kind; id and tip may be empty.
func (s *drawing) line(class string, x0, y0, x1, y1 float64, id, tip string) {
	s.use(class)
	data, inner := attr(id, tip)
	fmt.Fprintf(&s.body, `<line class="d-%s"%s x1="%.1f" y1="%.1f" x2="%.1f" y2="%.1f">%s</line>`+"\n", class, data, x0, y0, x1, y1, inner)
	s.reach(math.Max(y0, y1))
}

// rect draws a rectangle between two corners.
func (s *drawing) rect(class string, x0, y0, x1, y1 float64, tip string) {
	s.use(class)
	_, inner := attr("", tip)
	fmt.Fprintf(&s.body, `<rect class="d-%s" x="%.1f" y="%.1f" width="%.1f" height="%.1f">%s</rect>`+"\n",
		class, math.Min(x0, x1), math.Min(y0, y1), math.Abs(x1-x0), math.Abs(y1-y0), inner)
	s.reach(math.Max(y0, y1))
}

// polygon draws a closed outline.
func (s *drawing) polygon(class string, pts [][2]float64, id, tip string) {
	s.use(class)
	data, inner := attr(id, tip)
	var list []string
	for _, p := range pts {
		list = append(list, fmt.Sprintf("%.1f,%.1f", p[0], p[1]))
		s.reach(p[1])
	}
	fmt.Fprintf(&s.body, `<polygon class="d-%s"%s points="%s">%s</polygon>`+"\n", class, data, strings.Join(list, " "), inner)
}

// disc draws a circle.
func (s *drawing) disc(class string, x, y, r float64) {
	s.use(class)
	fmt.Fprintf(&s.body, `<circle class="d-%s" cx="%.1f" cy="%.1f" r="%.1f"/>`+"\n", class, x, y, r)
	s.reach(y + r)
}

// label is how a text stands.
type label struct {
	size   float64 // px; 0 is textSize
	anchor string  // start, middle, end; "" is middle
	turn   float64 // degrees clockwise
	bold   bool
	halo   bool // a white rim keeps it readable over lines
}

// text writes a text with its middle height at (x, y).
func (s *drawing) text(x, y float64, l label, t string) {
	if l.size == 0 {
		l.size = textSize
	}
	if l.anchor == "" {
		l.anchor = "middle"
	}
	class := "d-text"
	if l.halo {
		class += " d-halo"
	}
	extra := ""
	if l.bold {
		extra += ` font-weight="bold"`
	}
	if l.turn != 0 {
		extra += fmt.Sprintf(` transform="rotate(%.1f %.1f %.1f)"`, l.turn, x, y)
	}
	// A third of the size puts the middle of capitals and figures at y in every reader.
	fmt.Fprintf(&s.body, `<text class="%s" x="%.1f" y="%.1f" dy="%.1f" font-size="%.1f" text-anchor="%s"%s>%s</text>`+"\n",
		class, x, y, l.size*0.35, l.size, l.anchor, extra, html.EscapeString(t))
	s.reach(y + l.size/2)
}

// widthOf is the width of a text on the safe side (px).
func widthOf(t string, size float64) float64 { return charWidth * size * float64(len([]rune(t))) }

// breakText breaks a text at spaces into lines no wider than width (px).
func breakText(t string, size, width float64) []string {
	var out []string
	line := ""
	for _, word := range strings.Fields(t) {
		next := strings.TrimSpace(line + " " + word)
		if line != "" && widthOf(next, size) > width {
			out = append(out, line)
			next = word
		}
		line = next
	}
	if line != "" {
		out = append(out, line)
	}
	return out
}

// fitText writes a text inside a box, in lines and as large as fits down to a legible size, upright text in a tall box; it
// reports whether it fits.
func (s *drawing) fitText(x0, y0, x1, y1 float64, t string) bool {
	for size := textSize; size >= 8; size-- {
		for _, turned := range []bool{false, true} {
			w, h := x1-x0, y1-y0
			if turned {
				w, h = h, w
			}
			lines := breakText(t, size, w-6)
			pitch := size * 1.15
			if slices.ContainsFunc(lines, func(l string) bool { return widthOf(l, size) > w-6 }) || float64(len(lines))*pitch > h-4 {
				continue
			}
			for i, l := range lines {
				off := (float64(i) - float64(len(lines)-1)/2) * pitch
				if turned {
					s.text((x0+x1)/2+off, (y0+y1)/2, label{size: size, turn: -90, halo: true}, l)
				} else {
					s.text((x0+x1)/2, (y0+y1)/2+off, label{size: size, halo: true}, l)
				}
			}
			return true
		}
	}
	return false
}

// finish writes the foot of the sheet and returns the document.
func (s *drawing) finish() SVG {
	y := s.bottom + 30
	for _, t := range s.table {
		for i, l := range breakText(t, textSize, s.width-2*edge-16) {
			s.text(edge+16*float64(min(i, 1)), y, label{anchor: "start"}, l)
			y += rowHeight
		}
	}
	if len(s.table) > 0 {
		y += 14
	}
	s.bottom = y
	s.key(edge, y)
	s.schedule(edge+330, y)
	s.furniture(s.width-edge-230, y)
	y = s.bottom + 26
	for _, n := range append(slices.Clone(s.notes), solver.Caution) {
		for _, l := range breakText(n, textSize, s.width-2*edge) {
			s.text(edge, y, label{anchor: "start"}, l)
			y += rowHeight
		}
	}
	return s.document(y + 12)
}

// key explains the kinds of line that are on the sheet.
func (s *drawing) key(x, y float64) {
	for _, k := range lineKinds {
		if !s.used[k.class] || k.text == "" {
			continue
		}
		switch {
		case k.class == "node":
			fmt.Fprintf(&s.body, `<circle class="d-node d-sample" cx="%.1f" cy="%.1f" r="3"/>`+"\n", x+18, y)
		case k.class == "foot" || k.class == "footheld":
			fmt.Fprintf(&s.body, `<polygon class="d-%s d-sample" points="%.1f,%.1f %.1f,%.1f %.1f,%.1f"/>`+"\n", k.class, x+18, y-5, x+12, y+4, x+24, y+4)
		case k.class == "upright" || k.class == "endon":
			fmt.Fprintf(&s.body, `<rect class="d-%s d-sample" x="%.1f" y="%.1f" width="8" height="8"/>`+"\n", k.class, x+14, y-4)
		case strings.Contains(k.style, "fill:"):
			fmt.Fprintf(&s.body, `<rect class="d-%s d-sample" x="%.1f" y="%.1f" width="26" height="10"/>`+"\n", k.class, x, y-5)
		default:
			fmt.Fprintf(&s.body, `<line class="d-%s d-sample" x1="%.1f" y1="%.1f" x2="%.1f" y2="%.1f"/>`+"\n", k.class, x, y, x+36, y)
		}
		s.text(x+46, y, label{anchor: "start"}, k.text)
		y += rowHeight
	}
}

// schedule lists the marks that are on the sheet.
func (s *drawing) schedule(x, y float64) {
	if s.sched == nil || len(s.shown) == 0 {
		return
	}
	for _, e := range s.sched.entries {
		if !s.shown[e.mark] {
			continue
		}
		s.text(x, y, label{anchor: "start", bold: true}, e.mark)
		s.text(x+38, y, label{anchor: "start"}, e.group+": "+e.steel)
		y += rowHeight
	}
}

// furniture draws the scale bar and, on plans, the north arrow.
func (s *drawing) furniture(x, y float64) {
	if s.scale > 0 {
		long := 1.0
		for _, l := range []float64{2, 5, 10, 20, 50, 100} {
			if l*s.scale <= 200 {
				long = l
			}
		}
		fmt.Fprintf(&s.body, `<g class="d-scalebar"><rect x="%.1f" y="%.1f" width="%.1f" height="5" fill="#1e1e1e" stroke="#1e1e1e"/><rect x="%.1f" y="%.1f" width="%.1f" height="5" fill="#ffffff" stroke="#1e1e1e"/></g>`+"\n",
			x, y, long*s.scale/2, x+long*s.scale/2, y, long*s.scale/2)
		s.text(x, y+16, label{}, "0")
		s.text(x+long*s.scale/2, y+16, label{}, number(long/2))
		s.text(x+long*s.scale, y+16, label{}, number(long)+" m")
	}
	if s.plan {
		s.northArrow(x+60, y+70)
	}
}

// northArrow points to north on a plan whose X runs to the right: X points to the bearing, so north lies that angle
// counter-clockwise from it.
func (s *drawing) northArrow(x, y float64) {
	const r = 26.0
	dx, dy := math.Cos(s.bearing), -math.Sin(s.bearing)
	fmt.Fprintf(&s.body, `<g class="d-north"><circle cx="%.1f" cy="%.1f" r="%.0f" fill="none" stroke="#505050" stroke-width=".8"/>`+
		`<polygon points="%.1f,%.1f %.1f,%.1f %.1f,%.1f" fill="#1e1e1e"/></g>`+"\n",
		x, y, r, x+r*dx, y+r*dy, x-r*0.7*dx-r*0.3*dy, y-r*0.7*dy+r*0.3*dx, x-r*0.7*dx+r*0.3*dy, y-r*0.7*dy-r*0.3*dx)
	s.text(x+(r+10)*dx, y+(r+10)*dy, label{bold: true}, "N")
	s.text(x+r+22, y, label{anchor: "start"}, fmt.Sprintf("X to %.0f°", s.bearing*180/math.Pi))
	s.reach(y + r + 16)
}

// number writes a length without idle zeros.
func number(v float64) string {
	return strings.TrimSuffix(strings.TrimRight(fmt.Sprintf("%.2f", v), "0"), ".")
}

// document wraps the content in its frame and styles.
func (s *drawing) document(height float64) SVG {
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" width="%.0f" height="%.0f" viewBox="0 0 %.0f %.0f" font-family="%s">`+"\n", s.width, height, s.width, height, families)
	fmt.Fprintf(&b, "<title>%s</title>\n<style>\n", html.EscapeString(s.title))
	for _, k := range lineKinds {
		fill := ";fill:none"
		if strings.Contains(k.style, "fill:") {
			fill = ""
		}
		fmt.Fprintf(&b, ".d-%s{%s%s}\n", k.class, k.style, fill)
	}
	b.WriteString(".d-text{fill:#1e1e1e}\n.d-halo{paint-order:stroke;stroke:#ffffff;stroke-width:2.5px}\n</style>\n")
	fmt.Fprintf(&b, `<rect width="100%%" height="100%%" fill="#ffffff"/>`+"\n")
	fmt.Fprintf(&b, `<text class="d-text d-title" x="%.0f" y="38" font-size="20" font-weight="bold">%s</text>`+"\n", edge, html.EscapeString(s.title))
	fmt.Fprintf(&b, `<text class="d-text" x="%.0f" y="60" font-size="13">%s</text>`+"\n", edge, html.EscapeString(s.subtitle))
	b.WriteString(s.body.String())
	b.WriteString("</svg>\n")
	return SVG(b.String())
}
