package joints

import (
	"fmt"
	"math"

	"leanbay/model/brief"
	"leanbay/solver/checks"
	"leanbay/solver/checks/as4100"
)

// basePlate is a plate on concrete with hold-down bolts.
type basePlate struct {
	bolts bolting
	plate platework
	weld  welding
	pad   brief.Pad
	rules *as4100.Rules
}

func (b *basePlate) words() string {
	s := fmt.Sprintf("base plate: %s, %s, %s, concrete %.0f MPa", b.plate, &b.bolts, b.weld.text, float64(b.pad.Strength)/1e6)
	return s
}

func (b *basePlate) notDone() []string {
	return []string{"anchorage of the bolts in the concrete (AS 3600, AS 5216): the greatest tension and shear of a bolt are in the working, prying included", "shear of the base by friction, grout and levelling nuts"}
}

func (b *basePlate) open(p *place) []string {
	if b.plate.depth == 0 || b.plate.width == 0 {
		return []string{"the plate's depth and width"}
	}
	if _, ok := b.geometry(p); !ok && b.bolts.complete() {
		return []string{"bolts outside the column's outline: uplift between the flanges is not worked"}
	}
	return nil
}

// geometry is the plate under p's column; ok says that both bolt rows lie outside the column, beyond its depth or beside it.
func (b *basePlate) geometry(p *place) (as4100.BasePlate, bool) {
	d := p.steel.Section.Dims
	width := d.B
	if width == 0 {
		width = d.D
	}
	g := as4100.BasePlate{
		Depth: b.plate.depth, Width: b.plate.width, Thickness: b.plate.t, Fy: b.plate.fy, ColumnDepth: d.D, ColumnWidth: width, Hollow: d.Tw == 0,
		Concrete: float64(b.pad.Strength), Pad: float64(b.pad.Length) * float64(b.pad.Width), Bolt: b.bolts.bolt, Rules: b.rules,
	}
	deep, wide := float64(b.bolts.rows-1)*b.bolts.pitch, float64(b.bolts.per-1)*b.bolts.gauge
	switch {
	case deep > d.D && b.bolts.rows == 2:
		g.BoltsEachSide, g.BoltFromFace, g.BoltSpacing = b.bolts.per, (deep-d.D)/2, b.bolts.gauge
	case wide > width && b.bolts.per == 2: // beside the column: turn the plate
		g.Depth, g.Width, g.ColumnDepth, g.ColumnWidth = g.Width, g.Depth, g.ColumnWidth, g.ColumnDepth
		g.BoltsEachSide, g.BoltFromFace, g.BoltSpacing = b.bolts.rows, (wide-width)/2, b.bolts.pitch
	default:
		return g, false
	}
	return g, true
}

func (b *basePlate) check(dst []ratio, p *place, a Action, w *checks.Working) []ratio {
	v := math.Hypot(a.V, a.W)
	if b.plate.depth > 0 && b.plate.width > 0 {
		g, ok := b.geometry(p)
		switch {
		case p.fixed && (a.M != 0 || a.S != 0):
			dst = b.turned(dst, p, a, v, w)
		case a.N < 0:
			concrete, plate := g.Compression(-a.N, w)
			dst = append(dst, ratio{"concrete bearing", "AS 3600 12.6", concrete, -a.N, -a.N / concrete},
				ratio{"plate in bending, bearing", "no clause: cantilever strips", plate, -a.N, -a.N / plate})
		case a.N > 0 && ok && b.bolts.complete():
			plate, bolt := g.Uplift(a.N, v, w)
			dst = append(dst, ratio{"plate in bending, uplift", "no clause: cantilever plate", plate, a.N, a.N / plate},
				ratio{"bolts in tension and shear", "AS 4100 9.2.2.3", bolt, a.N, a.N / bolt})
		}
	}
	if b.bolts.complete() {
		dst = b.bolts.shear(dst, v/float64(b.bolts.count()), b.plate.t, b.plate.fu, w)
	}
	// Compression goes through contact, moment by the weld.
	return b.weld.onSection(dst, p, Action{N: math.Max(a.N, 0), V: a.V, W: a.W, M: a.M, S: a.S}, w)
}

// turned appends a base that takes moment about one axis or both; each way is worked by itself, the minor one without axial
// force, and their utilisations are added. Bolts that stand within the column's outline are as bad as twice too weak.
func (b *basePlate) turned(dst []ratio, p *place, a Action, v float64, w *checks.Working) []ratio {
	if !b.bolts.complete() {
		return dst
	}
	major, minor := b.ways(p)
	if major.BoltFromFace <= 0 {
		return append(dst, ratio{"bolts outside the column", "site practice", 2, 0, 0})
	}
	c1, p1, b1 := major.WithMoment(-a.N, math.Abs(a.M), v, w)
	if a.S != 0 {
		c2, p2, b2 := minor.WithMoment(0, math.Abs(a.S), 0, w)
		c1, p1, b1 = c1+c2, p1+p2, b1+b2
	}
	n := math.Abs(a.N)
	return append(dst, ratio{"concrete under moment", "AS 3600 12.6", c1, n, 0}, ratio{"plate under moment", "no clause: cantilever plate", p1, n, 0}, ratio{"bolts under moment and shear", "AS 4100 9.2.2.3", b1, n, 0})
}

// ways is the plate for moments about the column's major and its minor axis.
func (b *basePlate) ways(p *place) (major, minor as4100.BasePlate) {
	d := p.steel.Section.Dims
	width := d.B
	if width == 0 {
		width = d.D
	}
	deep, wide := float64(b.bolts.rows-1)*b.bolts.pitch, float64(b.bolts.per-1)*b.bolts.gauge
	major = as4100.BasePlate{Depth: b.plate.depth, Width: b.plate.width, Thickness: b.plate.t, Fy: b.plate.fy, ColumnDepth: d.D, ColumnWidth: width, Hollow: d.Tw == 0,
		Concrete: float64(b.pad.Strength), Pad: float64(b.pad.Length) * float64(b.pad.Width), Bolt: b.bolts.bolt, Rules: b.rules,
		BoltsEachSide: max(1, b.bolts.per), BoltFromFace: math.Max(deep-d.D, wide-width) / 2, BoltArm: deep / 2, BoltSpacing: b.bolts.gauge}
	minor = major
	minor.Depth, minor.Width, minor.ColumnDepth, minor.ColumnWidth = major.Width, major.Depth, major.ColumnWidth, major.ColumnDepth
	minor.BoltsEachSide, minor.BoltArm, minor.BoltSpacing = max(1, b.bolts.rows), wide/2, b.bolts.pitch
	return major, minor
}
