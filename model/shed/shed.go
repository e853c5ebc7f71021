// Package shed turns a brief into a parametric shed, and a design of it into a structure with its actions.
//
// In: a brief (what the architecture fixes, what was drawn, what may vary) and a Design (one choice of everything that
// varies). Out: solver.Structure, the findings of a geometric reading (missing load paths, blocked bays), and masses. It
// knows no search and no check: those are above and below.
//
// Geometry is that of centre lines: eaves and ridge heights are where column and rafter lines meet. Column line A is
// Y = 0, B is Y = span; frames are numbered from 1 at X = 0, and bays by their lower frame.
package shed

import (
	"math"
	"slices"
	"sync"
	"sync/atomic"

	"leanbay/model/actions"
	"leanbay/model/brief"
)

// Shed is the fixed architecture, in metres.
type Shed struct {
	Name       string
	Frames     []float64 // X of each frame line
	Span       float64
	EavesA     float64 // at Y = 0
	EavesB     float64 // at Y = span
	Ridge      float64 // height of the ridge, or of the higher eaves of a mono-pitch
	RidgeY     float64
	Shape      actions.RoofShape
	Mullions   [2][]float64 // Y of the mullions of the west and the east gable
	OpenGable  [2]bool      // a gable that is left open carries no mullions
	Mezzanines []Mezzanine
	Building   *actions.Building
	Site       *actions.Site
	// CarryMullions says that mullions carry the end rafters; else their heads slip vertically.
	CarryMullions bool

	brief     *brief.Brief
	propZones [][]interval // per frame: Y ranges where no prop may stand
	known     known
}

// known is what follows from the shed alone and every design asks for: found once, read by all.
type known struct {
	purlins, girts lineSets
	freeOnce       [2]sync.Once
	free           [2]string       // what whatIsFree says of each long wall
	built          [3]atomic.Int32 // the most nodes, elements and members that Build made: room for the next
	sketches       sync.Pool
}

// Mezzanine is a floor on beams along X at its two long edges, with joists along Y between them, or the other way round.
type Mezzanine struct {
	Name           string
	X0, X1, Y0, Y1 float64
	Level          float64
	JoistsAlongX   bool
	JoistSpacing   float64
	Diaphragm      bool // the brief says that the floor is one
	PostsX         []float64
	ShareProps     bool // a prop may take a post's place
	PropsOnBeams   bool // a prop may stand on a beam
	Floor          int  // index in Building.Floors
}

type interval struct{ from, to float64 }

// bays is the number of bays along the building.
func (s *Shed) bays() int { return len(s.Frames) - 1 }

// length is the distance between the gables.
func (s *Shed) length() float64 { return s.Frames[len(s.Frames)-1] }

// RoofZ is the height of the rafter line at y.
func (s *Shed) RoofZ(y float64) float64 {
	if y <= s.RidgeY {
		if s.RidgeY == 0 {
			return s.Ridge - (s.Ridge-s.EavesB)*y/s.Span
		}
		return s.EavesA + (s.Ridge-s.EavesA)*y/s.RidgeY
	}
	return s.Ridge - (s.Ridge-s.EavesB)*(y-s.RidgeY)/(s.Span-s.RidgeY)
}

// slopes are the roof planes from A to B as plan intervals: two for a gable, one for a mono-pitch.
func (s *Shed) slopes() []interval {
	if s.Shape == actions.MonoPitch {
		return []interval{{0, s.Span}}
	}
	return []interval{{0, s.RidgeY}, {s.RidgeY, s.Span}}
}

// slopeLength is the true length of the roof between two plan positions of one slope.
func (s *Shed) slopeLength(y0, y1 float64) float64 {
	return math.Hypot(y1-y0, s.RoofZ(y1)-s.RoofZ(y0))
}

// PanelPoints are the Y at which the design's roof bracing in bay b (0-based) meets the rafters: eaves, ridge, and the
// nodes that were drawn; where none were drawn, the mullion heads of every gable for which b is the nearest braced bay.
// A bay that serves no gable is then divided at mid-slope, so that no panel is longer than it need be.
func (s *Shed) PanelPoints(b int, d *Design) []float64 {
	points := []float64{0, s.Span}
	if s.Shape == actions.Gable {
		points = append(points, s.RidgeY)
	}
	if len(d.RoofNodes) > 0 {
		return distinct(append(points, d.RoofNodes...))
	}
	serves := false
	for gable := range 2 {
		if nearest(d.Roof, gable, s.bays()) == b && len(s.Mullions[gable]) > 0 {
			points = append(points, s.Mullions[gable]...)
			serves = true
		}
	}
	if !serves {
		for _, sl := range s.slopes() {
			points = append(points, (sl.from+sl.to)/2)
		}
	}
	return distinct(points)
}

// nearest returns the braced bay nearest to the west (0) or east (1) gable, or -1.
func nearest(braced []int, gable, bays int) int {
	best := -1
	for _, b := range braced {
		if best < 0 || (gable == 0 && b < best) || (gable == 1 && b > best) {
			best = b
		}
	}
	return best
}

// distinct sorts positions and drops those closer than 10 mm to the one before.
func distinct(v []float64) []float64 {
	slices.Sort(v)
	return slices.CompactFunc(v, func(a, b float64) bool { return math.Abs(a-b) < 0.010 })
}

// firstRoof is the number of the first roof face.
const firstRoof = int(actions.SouthRoof)

// Developed is the length of rafter between two plan positions, over the ridge where it lies between them (m).
func (s *Shed) Developed(y0, y1 float64) float64 {
	if s.RidgeY > y0 && s.RidgeY < y1 {
		return s.slopeLength(y0, s.RidgeY) + s.slopeLength(s.RidgeY, y1)
	}
	return s.slopeLength(y0, y1)
}

// ColumnBase is how the feet of the frames' columns are held.
func (s *Shed) ColumnBase() brief.BaseKind { return s.brief.Proposal.Bases.Columns.Kind }

// PlanArea is the area between the outer frame and column lines (m²).
func (s *Shed) PlanArea() float64 { return s.length() * s.Span }

// HasRidge says whether the roof has a ridge between its eaves.
func (s *Shed) HasRidge() bool { return s.RidgeY > 0 && s.RidgeY < s.Span }
