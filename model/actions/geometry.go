package actions

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Length is the building's length between the outer frame lines (m).
func (b *Building) Length() float64 { return b.FrameLines[len(b.FrameLines)-1] }

// MeanRoofHeight is h: the mean of the eaves' and the ridge's heights over the roof (m). For unequal eaves each slope
// counts by its plan width.
func (b *Building) MeanRoofHeight() float64 {
	if b.Shape == MonoPitch {
		return (b.EavesSouth + b.EavesNorth) / 2
	}
	return (b.RidgeY*(b.EavesSouth+b.Ridge) + (b.Span-b.RidgeY)*(b.EavesNorth+b.Ridge)) / (2 * b.Span)
}

// Volume is the volume inside the envelope (m³).
func (b *Building) Volume() float64 { return b.Length() * b.FaceArea(WestGable) }

// Open reports whether face f is left open.
func (b *Building) Open(f Face) bool { return slices.Contains(b.OpenFaces, f) }

// Outline is the face's outline in (u, v), counter-clockwise (m). A roof's v is Y in plan; a face that the roof's form
// does not have (the north roof of a mono-pitch) has none.
func (b *Building) Outline(f Face) []r2.Vec {
	l, w := b.Length(), b.Span
	switch f {
	case SouthWall:
		return rectangle(0, l, 0, b.EavesSouth)
	case NorthWall:
		return rectangle(0, l, 0, b.EavesNorth)
	case WestGable, EastGable:
		if b.Shape == MonoPitch {
			return []r2.Vec{{}, {X: w}, {X: w, Y: b.EavesNorth}, {Y: b.EavesSouth}}
		}
		return []r2.Vec{{}, {X: w}, {X: w, Y: b.EavesNorth}, {X: b.RidgeY, Y: b.Ridge}, {Y: b.EavesSouth}}
	case SouthRoof:
		if b.Shape == MonoPitch {
			return rectangle(0, l, 0, w)
		}
		return rectangle(0, l, 0, b.RidgeY)
	case NorthRoof:
		if b.Shape == MonoPitch {
			return nil
		}
		return rectangle(0, l, b.RidgeY, w)
	}
	panic(fmt.Sprintf("actions: no face %d", f))
}

func rectangle(u0, u1, v0, v1 float64) []r2.Vec {
	return []r2.Vec{{X: u0, Y: v0}, {X: u1, Y: v0}, {X: u1, Y: v1}, {X: u0, Y: v1}}
}

// Extent is the bounding rectangle of the face in (u, v): all zero for a face that does not exist.
func (b *Building) Extent(f Face) (u0, u1, v0, v1 float64) {
	for i, p := range b.Outline(f) {
		if i == 0 {
			u0, u1, v0, v1 = p.X, p.X, p.Y, p.Y
		}
		u0, u1 = min(u0, p.X), max(u1, p.X)
		v0, v1 = min(v0, p.Y), max(v1, p.Y)
	}
	return u0, u1, v0, v1
}

// Slope is dz/dy on a roof face: positive where the roof rises towards the north; 0 on walls.
func (b *Building) Slope(f Face) float64 {
	switch {
	case f == SouthRoof && b.Shape == MonoPitch:
		return (b.EavesNorth - b.EavesSouth) / b.Span
	case f == SouthRoof:
		return (b.Ridge - b.EavesSouth) / b.RidgeY
	case f == NorthRoof && b.Shape != MonoPitch:
		return -(b.Ridge - b.EavesNorth) / (b.Span - b.RidgeY)
	}
	return 0
}

// Pitch is the angle of a roof face to the horizontal (rad, not negative); 0 for walls.
func (b *Building) Pitch(f Face) float64 { return math.Atan(math.Abs(b.Slope(f))) }

// FaceNormal is the unit normal of a face that points out of the building.
func (b *Building) FaceNormal(f Face) r3.Vec {
	switch f {
	case SouthWall:
		return r3.Vec{Y: -1}
	case NorthWall:
		return r3.Vec{Y: 1}
	case WestGable:
		return r3.Vec{X: -1}
	case EastGable:
		return r3.Vec{X: 1}
	}
	return r3.Unit(r3.Vec{Y: -b.Slope(f), Z: 1})
}

// At is the global place of the point (u, v) of face f (m).
func (b *Building) At(f Face, u, v float64) r3.Vec {
	switch f {
	case SouthWall:
		return r3.Vec{X: u, Z: v}
	case NorthWall:
		return r3.Vec{X: u, Y: b.Span, Z: v}
	case WestGable:
		return r3.Vec{Y: u, Z: v}
	case EastGable:
		return r3.Vec{X: b.Length(), Y: u, Z: v}
	}
	return r3.Vec{X: u, Y: v, Z: b.RoofHeight(v)}
}

// RoofHeight is the height of the roof at y (m).
func (b *Building) RoofHeight(y float64) float64 {
	if b.Shape == MonoPitch || y <= b.RidgeY {
		return b.EavesSouth + b.Slope(SouthRoof)*y
	}
	return b.Ridge + b.Slope(NorthRoof)*(y-b.RidgeY)
}

// Stretch is true area over area in (u, v): 1 for walls, 1/cos(pitch) for roofs.
func (b *Building) Stretch(f Face) float64 { return math.Hypot(1, b.Slope(f)) }

// FaceArea is the true area of a face (m²), openings included.
func (b *Building) FaceArea(f Face) float64 { return polygonArea(b.Outline(f)) * b.Stretch(f) }

// PatchArea is the true area of the patch within its face's outline (m²).
func (b *Building) PatchArea(p Patch) float64 {
	return polygonArea(b.clip(p.Face, p.U0, p.U1, p.V0, p.V1)) * b.Stretch(p.Face)
}

// PatchOutline is the patch's outline in (u, v), cut off at its face.
func (b *Building) PatchOutline(p Patch) []r2.Vec { return b.clip(p.Face, p.U0, p.U1, p.V0, p.V1) }

// OpeningArea is the area of o (m²).
func (o Opening) OpeningArea() float64 { return (o.U1 - o.U0) * (o.V1 - o.V0) }

// PatchForce is the whole force of the patch (N, global) and the point where it acts (m, global).
func (b *Building) PatchForce(p Patch) (force, at r3.Vec) {
	cut := b.clip(p.Face, p.U0, p.U1, p.V0, p.V1)
	plan := polygonArea(cut)
	area := plan * b.Stretch(p.Face)
	force = r3.Scale(-p.Pressure*area, b.FaceNormal(p.Face))
	if p.PlanArea {
		force = r3.Add(force, r3.Scale(plan, p.Traction))
	} else {
		force = r3.Add(force, r3.Scale(area, p.Traction))
	}
	c := centroid(cut)
	return force, b.At(p.Face, c.X, c.Y)
}

// clip cuts the rectangle at the face's outline (all outlines are convex).
func (b *Building) clip(f Face, u0, u1, v0, v1 float64) []r2.Vec {
	poly := b.Outline(f)
	poly = cutHalf(poly, func(p r2.Vec) float64 { return p.X - u0 })
	poly = cutHalf(poly, func(p r2.Vec) float64 { return u1 - p.X })
	poly = cutHalf(poly, func(p r2.Vec) float64 { return p.Y - v0 })
	return cutHalf(poly, func(p r2.Vec) float64 { return v1 - p.Y })
}

// cutHalf keeps the part of a convex polygon where side is not negative; side must be linear.
func cutHalf(poly []r2.Vec, side func(r2.Vec) float64) []r2.Vec {
	var out []r2.Vec
	for i, p := range poly {
		q := poly[(i+1)%len(poly)]
		a, c := side(p), side(q)
		if a >= 0 {
			out = append(out, p)
		}
		if a*c < 0 {
			out = append(out, r2.Add(p, r2.Scale(a/(a-c), r2.Sub(q, p))))
		}
	}
	return out
}

func polygonArea(poly []r2.Vec) float64 {
	var twice float64
	for i, p := range poly {
		twice += r2.Cross(p, poly[(i+1)%len(poly)])
	}
	return twice / 2
}

// centroid is the polygon's centre of area; of a polygon without area, the mean of its corners.
func centroid(poly []r2.Vec) r2.Vec {
	var c r2.Vec
	area := polygonArea(poly)
	for i, p := range poly {
		q := poly[(i+1)%len(poly)]
		if area == 0 {
			c = r2.Add(c, r2.Scale(1/float64(len(poly)), p))
			continue
		}
		c = r2.Add(c, r2.Scale(r2.Cross(p, q)/(6*area), r2.Add(p, q)))
	}
	return c
}

// Validate reports every inconsistency of the building's numbers at once.
func (b *Building) Validate() error {
	var errs []error
	bad := func(format string, a ...any) { errs = append(errs, fmt.Errorf(format, a...)) }
	if len(b.FrameLines) < 2 || b.FrameLines[0] != 0 || !slices.IsSorted(b.FrameLines) || b.Length() <= 0 {
		bad("frame lines %v: give at least two X positions, ascending from 0", b.FrameLines)
		return errors.Join(errs...)
	}
	if !(b.Span > 0) || !(b.EavesSouth > 0) || !(b.EavesNorth > 0) {
		bad("span %.3g m, eaves %.3g and %.3g m: all must be above 0", b.Span, b.EavesSouth, b.EavesNorth)
	}
	switch b.Shape {
	case Gable:
		if b.RidgeY <= 0 || b.RidgeY >= b.Span || b.Ridge < max(b.EavesSouth, b.EavesNorth) {
			bad("ridge at Y %.3g m, height %.3g m: it must lie within the span and not below the eaves", b.RidgeY, b.Ridge)
		}
	case MonoPitch:
		if b.Ridge != max(b.EavesSouth, b.EavesNorth) {
			bad("ridge %.3g m: for a mono-pitch give the height of the higher eaves, %.3g m", b.Ridge, max(b.EavesSouth, b.EavesNorth))
		}
	default:
		bad("roof shape %q: give %q or %q", b.Shape, Gable, MonoPitch)
	}
	if len(errs) == 0 {
		errs = append(errs, b.validateParts()...)
	}
	return errors.Join(errs...)
}

// validateParts checks openings, open faces and floors against the envelope.
func (b *Building) validateParts() (errs []error) {
	const slack = 1e-6 // m: positions come from millimetres
	for _, o := range b.Openings {
		if o.Face > EastGable || o.Face < 0 {
			errs = append(errs, fmt.Errorf("%s: openings in the %v are not covered; give a wall or gable", o.Name, o.Face))
			continue
		}
		cut := polygonArea(b.clip(o.Face, o.U0, o.U1, o.V0, o.V1))
		if !(o.OpeningArea() > 0) || math.Abs(cut-o.OpeningArea()) > slack*(1+o.OpeningArea()) {
			errs = append(errs, fmt.Errorf("%s: it does not lie within the %v", o.Name, o.Face))
		}
	}
	for _, f := range b.OpenFaces {
		if f > EastGable || f < 0 {
			errs = append(errs, fmt.Errorf("open face %v: only walls and gables can be open", f))
		}
	}
	for _, f := range b.Floors {
		if f.X0 < -slack || f.Y0 < -slack || f.X1 > b.Length()+slack || f.Y1 > b.Span+slack || !(f.X1 > f.X0) || !(f.Y1 > f.Y0) {
			errs = append(errs, fmt.Errorf("floor %s: it does not lie within the building", f.Name))
		}
	}
	return errs
}
