package asnzs1170

import (
	"fmt"
	"math"
	"strings"

	"leanbay/model/actions"
)

// Pressure is q = 0.5·ρ·V² in Pa for a speed in m/s (clause 2.4.1).
func (t *Table) Pressure(w *actions.Working, v float64) float64 {
	return 0.5 * t.at(w, "air_density") * v * v * t.at(w, "dynamic")
}

// Windward is Cp,e of the windward wall with the speed taken at z = h (Table 5.2(A)).
func (t *Table) Windward(w *actions.Working) float64 { return t.at(w, "wall.windward") }

// Leeward is Cp,e of the leeward wall (Table 5.2(B)). pitch is that of the roof in degrees; along is wind along the
// ridge (or the eaves of a mono-pitch). Linear in d/b and in the pitch.
func (t *Table) Leeward(w *actions.Working, along bool, pitch, d, b float64) float64 {
	flat := interpolate([]float64{1, 2, 4}, t.series(w, "wall.leeward.flat", "db1", "db2", "db4"), d/b)
	if along || pitch < 10 {
		return flat
	}
	steep := interpolate([]float64{0.1, 0.3}, t.series(w, "wall.leeward.p25", "db0.1", "db0.3"), d/b)
	row := append(t.series(w, "wall.leeward", "p10", "p15", "p20"), steep)
	return interpolate([]float64{10, 15, 20, 25}, row, pitch)
}

// Zone is a strip of a face square to the wind, by its distances from the windward edge (m), with the two tabulated
// coefficients (the same twice where the table has one).
type Zone struct {
	From, To float64
	Cpe      [2]float64
	Name     string // "1h-2h", "upwind slope"
	row      string // the coefficient whose clause and mark the working shows
}

// Side returns the zones of a wall along the wind over the depth d (Table 5.2(C)).
func (t *Table) Side(w *actions.Working, h, d float64) []Zone {
	c := t.series(w, "wall.side", "h1", "h2", "h3", "beyond")
	var out []Zone
	for i, end := range []float64{h, 2 * h, 3 * h, math.Inf(1)} {
		out = appendZone(out, end, d, [2]float64{c[i], c[i]}, [...]string{"0-1h", "1h-2h", "2h-3h", "beyond 3h"}[i], "wall.side.h1")
	}
	return out
}

// appendZone adds the strip from the last zone's end to end, cut off at d.
func appendZone(zs []Zone, end, d float64, cpe [2]float64, name, row string) []Zone {
	from := 0.0
	if len(zs) > 0 {
		from = zs[len(zs)-1].To
	}
	if from >= d {
		return zs
	}
	return append(zs, Zone{From: from, To: min(end, d), Cpe: cpe, Name: name, row: row})
}

// FlatRoof returns the zones of a roof under 10°, and of any roof for wind along the ridge, over the depth d (Table
// 5.3(A)). Between h/d 0.5 and 1.0 each value is interpolated, a missing row counting as the table says.
func (t *Table) FlatRoof(w *actions.Working, h, d float64) []Zone {
	names := []string{"h0.5", "h1", "h2", "h3", "beyond"}
	words := []string{"0-0.5h", "0.5h-1h", "1h-2h", "2h-3h", "beyond 3h"}
	var out []Zone
	for i, end := range []float64{0.5 * h, h, 2 * h, 3 * h, math.Inf(1)} {
		low := t.series(w, "roof.flat.low."+names[i], "a", "b")
		cpe := [2]float64{low[0], low[1]}
		if i < 3 && h/d > 0.5 {
			tall := t.series(w, "roof.flat.tall."+names[i], "a", "b")
			for k := range cpe {
				cpe[k] = sameSign([]float64{low[k], tall[k]}, weights([]float64{0.5, 1}, h/d), k)
			}
		}
		out = appendZone(out, end, d, cpe, words[i], "roof.flat.low."+names[i]+".a")
	}
	return out
}

// weights are the shares of xs at x: linear between neighbours, all on the end value outside.
func weights(xs []float64, x float64) []float64 {
	out := make([]float64, len(xs))
	last := len(xs) - 1
	switch {
	case x <= xs[0]:
		out[0] = 1
	case x >= xs[last]:
		out[last] = 1
	default:
		for i := 1; i <= last; i++ {
			if x <= xs[i] {
				out[i] = (x - xs[i-1]) / (xs[i] - xs[i-1])
				out[i-1] = 1 - out[i]
				break
			}
		}
	}
	return out
}

// sameSign sums values by their shares, but only values of one sign; a missing sign counts as 0 (Table 5.3, note 2).
// The first tabulated value (k = 0) is read as suction; the second as pressure where any neighbour is a pressure, else
// as suction.
func sameSign(vals, shares []float64, k int) float64 {
	pressure := false
	for i, v := range vals {
		pressure = pressure || (shares[i] > 0 && v > 0)
	}
	var sum float64
	for i, v := range vals {
		switch {
		case k == 1 && pressure:
			v = max(v, 0)
		default:
			v = min(v, 0)
		}
		sum += shares[i] * v
	}
	return sum
}

var (
	roofPitches = []float64{10, 15, 20, 25, 30, 35, 45}
	roofDepths  = []float64{0.25, 0.5, 1}
	depthNames  = []string{"hd0.25", "hd0.5", "hd1"}
)

// Upwind is the pair of coefficients of an upwind slope from 10° (Table 5.3(B)): pitch in degrees, h/d.
func (t *Table) Upwind(w *actions.Working, pitch, hd float64) [2]float64 {
	ps, ds := weights(roofPitches, pitch), weights(roofDepths, hd)
	steep := t.at(w, "roof.up.steep") * math.Sin(max(pitch, 45)*math.Pi/180)
	var out [2]float64
	for k, col := range []string{"a", "b"} {
		var vals, shares []float64
		for i, depth := range depthNames {
			for j, p := range roofPitches {
				if ds[i]*ps[j] == 0 {
					continue
				}
				v := steep
				if k == 0 || p < 45 {
					v = t.at(w, fmt.Sprintf("roof.up.%s.%s.p%g", depth, col, p))
				}
				vals, shares = append(vals, v), append(shares, ds[i]*ps[j])
			}
		}
		out[k] = sameSign(vals, shares, k)
	}
	return out
}

// Downwind is the coefficient of a downwind slope from 10° (Table 5.3(C)).
func (t *Table) Downwind(w *actions.Working, pitch, hd, b, d float64) float64 {
	c := t.series(w, "roof.down.steep", "narrow", "rate", "offset", "wide")
	steep := c[0]
	switch r := b / d; {
	case r > 8:
		steep = c[3]
	case r >= 3:
		steep = c[1] * (c[2] + r)
	}
	byDepth := make([]float64, len(depthNames))
	for i, depth := range depthNames {
		row := append(t.series(w, "roof.down."+depth, "p10", "p15", "p20"), steep)
		byDepth[i] = interpolate([]float64{10, 15, 20, 25}, row, pitch)
	}
	return interpolate(roofDepths, byDepth, hd)
}

// surfaces of Table 5.4, as --case and the schedule name them.
var areaRows = map[string]string{"roof": "area.roof", "side wall": "area.roof", "windward wall": "area.windward", "leeward wall": "area.leeward"}

// AreaReduction is Ka (Table 5.4) for a tributary area in m² on a "roof", "side wall", "windward wall" or "leeward
// wall".
func (t *Table) AreaReduction(w *actions.Working, surface string, area float64) (float64, error) {
	name, ok := areaRows[surface]
	if !ok {
		return 0, fmt.Errorf("surface %q: give roof, side wall, windward wall or leeward wall", surface)
	}
	if !(area >= 0) {
		return 0, fmt.Errorf("tributary area %g m²: give 0 or more", area)
	}
	return interpolate([]float64{10, 25, 100}, t.series(w, name, "a10", "a25", "a100"), area), nil
}

// CombinationFactor is Kc for n effective surfaces (Table 5.5).
func (t *Table) CombinationFactor(w *actions.Working, n int) float64 {
	switch {
	case n >= 3:
		return t.at(w, "combination.three")
	case n == 2:
		return t.at(w, "combination.two")
	}
	return 1
}

// Friction is the drag force (N) and its area (m²) on a building of breadth b, depth d and height h in wind of pressure
// q (Pa) (clause 5.5): none unless d/h or d/b exceeds 4.
func (t *Table) Friction(w *actions.Working, q, cf, b, d, h float64) (force, area float64) {
	n := t.at(w, "friction.ratio")
	if d/h <= n && d/b <= n {
		return 0, 0
	}
	area = max(0, (b+2*h)*(d-n*min(h, b)))
	return q * cf * area, area
}

// Permeability is the condition of the shut envelope, a row of Table 5.1(A).
type Permeability int

// The rows of Table 5.1(A).
const (
	AllPermeable Permeability = iota
	SomePermeable
	OnePermeable
)

// Permeable is Cp,i of a building without dominant opening (Table 5.1(A)); on says that the windward wall is permeable.
// Effectively sealed buildings take the row of permeable walls, which covers theirs.
func (t *Table) Permeable(w *actions.Working, p Permeability, on bool) (lo, hi float64) {
	switch {
	case p == OnePermeable && on:
		v := t.at(w, "internal.one_permeable.on")
		return v, v
	case p == OnePermeable:
		v := t.at(w, "internal.one_permeable.off")
		return v, v
	case p == SomePermeable && on:
		return t.at(w, "internal.some_permeable.on.lo"), t.at(w, "internal.some_permeable.on.hi")
	case p == SomePermeable:
		v := t.at(w, "internal.some_permeable.off")
		return v, v
	}
	return t.at(w, "internal.all_permeable.lo"), t.at(w, "internal.all_permeable.hi")
}

// Opened is one surface's open area against all others, for Table 5.1(B).
type Opened struct {
	Surface    string  // windward wall, leeward wall, side wall, roof
	Area       float64 // m², open area of this surface
	Others     float64 // m², of all other surfaces, leaks included
	Cpe        float64 // at the opening
	Ka, Kl     float64 // of the opening's area on its surface
	Volume     float64 // m³ inside
	LeastRatio float64 // the ratio counts as at least this (debris); 0 for none
}

// Ratio is the open area over that of all others.
func (o Opened) Ratio() float64 {
	r := math.Inf(1)
	if o.Others > 0 {
		r = o.Area / o.Others
	}
	return max(r, o.LeastRatio)
}

// VolumeFactor is Kv and its argument 100·A^1.5/Vol (clause 5.3.4). It counts only for a wall opening at least six times
// as large as all others.
func (t *Table) VolumeFactor(w *actions.Working, o Opened) (kv, x float64) {
	x = 100 * math.Pow(o.Area, 1.5) / o.Volume
	if o.Surface == "roof" || o.Ratio() < t.at(w, "internal.volume.ratio") {
		return 1, x
	}
	switch {
	case x < t.at(w, "internal.volume.range.from"):
		return t.at(w, "internal.volume.least"), x
	case x > t.at(w, "internal.volume.range.to"):
		return t.at(w, "internal.volume.most"), x
	}
	return t.at(w, "internal.volume.base") + t.at(w, "internal.volume.slope")*math.Log10(x), x
}

// Dominant is Cp,i with an opening (Table 5.1(B), clause 5.3.4): the lowest and the highest value; the same from a ratio
// of 2. Between the rows for 1 and 2 each value is interpolated linearly.
func (t *Table) Dominant(w *actions.Working, o Opened) (lo, hi float64) {
	kv, _ := t.VolumeFactor(w, o)
	share, row1 := "internal.other_share", "internal.ratio1.other"
	if o.Surface == "windward wall" {
		share, row1 = "internal.windward_share", "internal.ratio1.windward"
	}
	full := o.Cpe * o.Ka * o.Kl
	r := o.Ratio()
	if r >= 2 {
		s := interpolate([]float64{2, 3, 6}, t.series(w, share, "ratio2", "ratio3", "ratio6"), r)
		return s * full * kv, s * full * kv
	}
	at2 := t.at(w, share+".ratio2") * full
	xs := []float64{0.5, 1, 2}
	lo = interpolate(xs, []float64{t.at(w, "internal.ratio0.5.lo"), t.at(w, row1+".lo"), at2}, r)
	hi = interpolate(xs, []float64{t.at(w, "internal.ratio0.5.hi"), t.at(w, row1+".hi"), at2}, r)
	return min(lo, hi) * kv, max(lo, hi) * kv
}

// FreeRoof returns the net coefficients, positive down, of the windward and the leeward half of a roof without walls
// (Tables B.4(A), B.5): two values each. up is "high" or "low" for the edge of a mono-pitch that faces the wind.
func (t *Table) FreeRoof(w *actions.Working, shape actions.RoofShape, blocked bool, pitch float64, up string) (cw, cl [2]float64, err error) {
	under := "empty"
	if blocked {
		under = "blocked"
	}
	xs := []float64{15, 22.5, 30}
	rows := []string{"free.gable." + under + ".p15", "free.gable." + under + ".p22.5", "free.gable." + under + ".p30"}
	if shape == actions.MonoPitch {
		xs = []float64{0, 15, 30}
		if blocked && up == "low" {
			under = "empty" // blocked is 'same or less': the empty row covers it
		}
		rows = []string{"free.mono." + under + ".p0"}
		for _, p := range []string{"15", "30"} {
			rows = append(rows, "free.mono."+under+"."+up+p)
		}
	}
	if pitch > 30 {
		return cw, cl, fmt.Errorf("free roof of %.1f°: the tables end at 30°", pitch)
	}
	var out [4]float64
	for k, col := range strings.Fields(four) {
		vals := make([]float64, len(xs))
		for i, r := range rows {
			vals[i] = t.at(w, r+"."+col)
		}
		// The pair is ordered as suction, pressure; only values of one sign are mixed, as in Table 5.3.
		out[k] = sameSign(vals, weights(xs, pitch), k%2)
		if k%2 == 0 && out[k] == 0 {
			out[k] = interpolate(xs, vals, pitch)
		}
	}
	return [2]float64{out[0], out[1]}, [2]float64{out[2], out[3]}, nil
}
