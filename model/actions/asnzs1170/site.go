package asnzs1170

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"leanbay/model/actions"
)

// Use says for what a wind speed is wanted: the direction multiplier of cyclonic regions differs.
type Use int

// Frame is the main structure; Cladding is cladding with purlins, girts and their fixings.
const (
	Frame Use = iota
	Cladding
)

var compass = strings.Fields(eight)

// regions are the wind regions of the 2021 edition, and B, for which only the speed is known (it is that of B1 and B2).
var regions = strings.Fields("A0 A1 A2 A3 A4 A5 B1 B2 C D NZ1 NZ2 NZ3 NZ4")

// speedFamily is the row of Table 3.1(A) for a region, "" for New Zealand.
func speedFamily(region string) (string, error) {
	switch {
	case region == "B" || region == "A": // the 2011 edition's name of both halves
		return region, nil
	case !slices.Contains(regions, region):
		return "", fmt.Errorf("wind region %q is not known; the regions are %s", region, strings.Join(regions, ", "))
	case region[0] == 'N':
		return "", nil
	}
	return region[:1], nil
}

// cyclonic says whether the direction multiplier and debris rules of cyclonic regions hold.
func cyclonic(region string) bool { return region == "B2" || region == "C" || region == "D" }

// newZealand says whether s lies in New Zealand.
func newZealand(region string) bool { return strings.HasPrefix(region, "NZ") }

// RegionalSpeed is V_R (m/s), rounded to 1 m/s, for a recurrence in years: AS/NZS 1170.2 Table 3.1(A). New Zealand's
// speeds are not in the tables: an error says that they must be given.
func (t *Table) RegionalSpeed(w *actions.Working, region string, years float64) (float64, error) {
	f, err := speedFamily(region)
	if err != nil {
		return 0, err
	}
	if f == "" {
		return 0, fmt.Errorf("region %s: the regional speed for R = %g years is not in the tables; give it (regional_speed)", region, years)
	}
	var v float64
	switch {
	case years == 1:
		v = t.at(w, "speed.yearly."+f)
	case years >= 5:
		c := t.series(w, "speed."+f, "a", "b", "exponent")
		v = math.Round(c[0] - c[1]*math.Pow(years, -c[2]))
	default:
		return 0, fmt.Errorf("recurrence of %g years: the formulas hold from 5 years (and for 1 year)", years)
	}
	t.step(w, "speed."+f+".a", "V_R", "a - b·R^-k, rounded to 1 m/s", v, "m/s", func() string {
		return fmt.Sprintf("region %s, R = %g years", region, years)
	})
	return v, nil
}

// Climate is the climate change multiplier Mc (Table 3.3).
func (t *Table) Climate(w *actions.Working, region string) (float64, error) {
	f, err := speedFamily(region)
	switch {
	case err != nil:
		return 0, err
	case f == "":
		f = "NZ"
	case region == "B":
		f = "B2" // the region of the 2011 edition does not tell B1 from B2: the larger
	case f == "B":
		f = region
	}
	m := t.at(w, "climate."+f)
	t.step(w, "climate."+f, "Mc", "climate change multiplier", m, "-", func() string { return "region " + region })
	return m, nil
}

// DirectionMultipliers are Md for the eight directions from north, clockwise (Table 3.2(A), clause 3.3).
func (t *Table) DirectionMultipliers(w *actions.Working, region string, use Use) (md [8]float64, err error) {
	if _, err := speedFamily(region); err != nil {
		return md, err
	}
	for i, dir := range compass {
		switch {
		case cyclonic(region) && use == Frame:
			md[i] = t.at(w, "direction.cyclonic.frame")
		case cyclonic(region):
			md[i] = t.at(w, "direction.cyclonic.cladding")
		case t.has("direction." + region + "." + dir):
			md[i] = t.at(w, "direction."+region+"."+dir)
		default:
			return md, fmt.Errorf("region %s: its direction multipliers are not in the tables; give all eight (direction)", region)
		}
	}
	return md, nil
}

var (
	terrainHeights    = []float64{3, 5, 10, 15, 20, 30, 40, 50}
	terrainCategories = []float64{1, 2, 2.5, 3, 4}
)

// TerrainHeight is Mz,cat (Table 4.1): linear in height z (m) and between categories. Region A0 takes category 2.
func (t *Table) TerrainHeight(w *actions.Working, region string, category, z float64) (float64, error) {
	if category < 1 || category > 4 || math.IsNaN(category) {
		return 0, fmt.Errorf("terrain category %g: give 1 to 4", category)
	}
	if z < 0 || z > 50 || math.IsNaN(z) {
		return 0, fmt.Errorf("height %g m: the terrain/height table is held up to 50 m", z)
	}
	if region == "A0" {
		category = t.at(w, "terrain.A0")
	}
	cols := strings.Fields(heights)
	ms := make([]float64, len(terrainCategories))
	for i, tc := range terrainCategories {
		near := (i == 0 || terrainCategories[i-1] < category || tc == category) && (i == len(ms)-1 || terrainCategories[i+1] > category || tc == category)
		if near {
			ms[i] = interpolate(terrainHeights, t.series(w, fmt.Sprintf("terrain.TC%g", tc), cols...), z)
		}
	}
	m := interpolate(terrainCategories, ms, category)
	t.step(w, "terrain.TC2.z10", "Mz,cat", "Table 4.1, linear in z and category", m, "-", func() string {
		return fmt.Sprintf("TC %g, z = %.2f m", category, z)
	})
	return m, nil
}

// Shielding is Ms and its parameter s (clause 4.3) for ns buildings of mean height hs and breadth bs (m) in the sector
// upwind of a building of height h. With ns = 0 there is no shielding.
func (t *Table) Shielding(w *actions.Working, h, ns, hs, bs float64) (ms, s, ls float64) {
	if ns <= 0 || h > t.at(w, "shielding.limit.height") {
		return 1, math.Inf(1), math.Inf(1)
	}
	ls = h * (t.at(w, "shielding.length.a")/ns + t.at(w, "shielding.length.b"))
	s = ls / math.Sqrt(hs*bs)
	ms = interpolate([]float64{1.5, 3, 6, 12}, t.series(w, "shielding", "s1.5", "s3", "s6", "s12"), s)
	return ms, s, ls
}

// HillShape holds the hill-shape multiplier and what it rests on.
type HillShape struct {
	Slope, L1, L2, Mh float64
}

// Hill is the hill-shape multiplier M_h at height z above local ground (clause 4.4.2).
func (t *Table) Hill(w *actions.Working, hill actions.Hill, z float64) HillShape {
	H, lu, x := hill.Height, hill.UpwindHalf, hill.Distance
	s := HillShape{Slope: H / (2 * lu), Mh: 1}
	s.L1 = max(t.at(w, "hill.L1.half")*lu, t.at(w, "hill.L1.height")*H)
	s.L2 = t.at(w, "hill.L2.hill") * s.L1
	if hill.Escarpment && hill.Downwind {
		s.L2 = t.at(w, "hill.L2.escarpment") * s.L1
	}
	if H < t.at(w, "hill.least_height") || s.Slope < t.at(w, "hill.least_slope") || x >= s.L2 {
		return s
	}
	fade := 1 - x/s.L2
	// On the crest itself (x = 0) either side reads: the larger value counts there.
	separated := (hill.Downwind || x == 0) && s.Slope > t.at(w, "hill.steep_slope") &&
		x <= t.at(w, "hill.separation.length")*H && z <= t.at(w, "hill.separation.height")*H
	if separated {
		s.Mh = 1 + t.at(w, "hill.separation.peak")*fade
	} else {
		s.Mh = 1 + H/(t.at(w, "hill.spread")*(z+s.L1))*fade
	}
	return s
}

// Topographic is Mt from the hill-shape multiplier and the site's elevation E in metres (clause 4.4.1). Lee zones are
// not in the tables: give the multiplier by direction for a site in one.
func (t *Table) Topographic(w *actions.Working, region string, mh, elevation float64) float64 {
	switch {
	case region == "A0":
		return t.at(w, "hill.A0.base") + t.at(w, "hill.A0.share")*mh
	case region == "A4" || newZealand(region):
		if elevation > t.at(w, "hill.altitude.from") {
			return mh * (1 + t.at(w, "hill.altitude.rate")*elevation)
		}
	}
	return mh
}

// SiteSpeeds are V_sit,β (m/s) for the eight directions, with what they rest on.
type SiteSpeeds struct {
	Years          float64
	VR, Mc, Mz     float64
	Md, Ms, Mt, V  [8]float64
	LeastUltimate  float64 // m/s: the floor of design speeds; 0 for service
	AnyOrientation bool
}

// SiteSpeeds finds the site wind speeds at height h for a recurrence: V_R·Mc·Md·(Mz,cat·Ms·Mt), clause 2.2. The hill counts
// in every direction whose topographic multiplier is not given.
func (t *Table) SiteSpeeds(w *actions.Working, s *actions.Site, h, years float64, use Use) (SiteSpeeds, error) {
	r := SiteSpeeds{Years: years}
	var err error
	if v, ok := s.RegionalSpeed[int(years)]; ok {
		r.VR = v
	} else if r.VR, err = t.RegionalSpeed(w, s.Region, years); err != nil {
		return r, err
	}
	if r.Mc, err = t.Climate(w, s.Region); err != nil {
		return r, err
	}
	if r.Mz, err = t.TerrainHeight(w, s.Region, s.Terrain, h); err != nil {
		return r, err
	}
	r.Md = s.Direction
	if slices.Contains(r.Md[:], 0) {
		table, err := t.DirectionMultipliers(w, s.Region, use)
		if err != nil {
			return r, err
		}
		for i, given := range s.Direction {
			if given == 0 {
				r.Md[i] = table[i]
			}
		}
	}
	mt := 1.0
	if s.Hill != nil {
		mt = t.Hill(w, *s.Hill, h).Mh
	}
	mt = t.Topographic(w, s.Region, mt, s.Elevation)
	for i := range r.V {
		r.Ms[i], r.Mt[i] = orElse(s.Shielding[i], 1), orElse(s.Topographic[i], mt)
		r.V[i] = r.VR * r.Mc * r.Md[i] * r.Mz * r.Ms[i] * r.Mt[i]
		t.step(w, "", "V_sit "+compass[i], "V_R·Mc·Md·Mz,cat·Ms·Mt", r.V[i], "m/s", func() string {
			return fmt.Sprintf("%.0f × %.2f × %.2f × %.3f × %.2f × %.2f", r.VR, r.Mc, r.Md[i], r.Mz, r.Ms[i], r.Mt[i])
		})
	}
	return r, nil
}

func orElse(v, otherwise float64) float64 {
	if v == 0 {
		return otherwise
	}
	return v
}

// Design is V_des,θ for wind from a compass bearing (rad): the largest site speed within ±45°, interpolating linearly
// between the eight directions (clause 2.3), and not below the floor of ultimate speeds.
func (r SiteSpeeds) Design(bearing float64) float64 {
	if r.AnyOrientation {
		return max(slices.Max(r.V[:]), r.LeastUltimate)
	}
	const sector = math.Pi / 4
	at := func(b float64) float64 {
		x := math.Mod(b/sector, 8)
		if x < 0 {
			x += 8
		}
		i := int(x)
		f := x - float64(i)
		return r.V[i%8] + f*(r.V[(i+1)%8]-r.V[i%8])
	}
	// The speed is linear between directions: its maximum over the interval is at an end or at a direction inside it.
	v := max(at(bearing-sector), at(bearing+sector))
	for i := range r.V {
		turn := math.Remainder(float64(i)*sector-bearing, 2*math.Pi)
		if math.Abs(turn) <= sector*(1+1e-12) {
			v = max(v, r.V[i])
		}
	}
	return max(v, r.LeastUltimate)
}

// Recurrence is the design event in years for an action: "wind", "snow" or "earthquake" (NCC B1D3; AS/NZS 1170.0 Table
// 3.3 in New Zealand).
func (t *Table) Recurrence(w *actions.Working, s *actions.Site, action string) (float64, error) {
	il := s.ImportanceLevel
	if il < 1 || il > 4 {
		return 0, fmt.Errorf("importance level %d: give 1 to 4", il)
	}
	if newZealand(s.Region) || s.State == "NZ" {
		return t.at(w, fmt.Sprintf("recurrence.NZ.%d.%s", il, action)), nil
	}
	col := action
	if action == "wind" && (s.Region == "C" || s.Region == "D" || (s.Region == "B2" && s.State == "WA")) {
		col = "cyclonic"
	}
	if action == "wind" && s.Region == "D" && s.State == "WA" && il <= 2 {
		name := fmt.Sprintf("recurrence.WA_D.%d", il)
		if s.NorthOfTropic {
			return t.at(w, name), nil
		}
		t.step(w, name, "R", "taken as south of the Tropic of Capricorn; north of it this value holds", t.at(w, name), "a", nil)
	}
	return t.at(w, fmt.Sprintf("recurrence.AU.%d.%s", il, col)), nil
}
