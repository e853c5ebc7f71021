package asnzs1170

// internalRows: Tables 5.1(A), 5.1(B) and clause 5.3. lo and hi are the two tabulated values.
var internalRows = []row{
	one("internal.one_permeable.on", 0.7, std2+"Table 5.1(A), wind on the permeable wall", V40),
	one("internal.one_permeable.off", -0.3, std2+"Table 5.1(A), wind on an impermeable wall", V40),
	{"internal.some_permeable.on", "lo hi", []float64{-0.1, 0.2}, std2 + "Table 5.1(A), two or three walls, on a permeable wall", V40},
	one("internal.some_permeable.off", -0.3, std2+"Table 5.1(A), two or three walls, on an impermeable wall", V40),
	{"internal.all_permeable", "lo hi", []float64{-0.3, 0}, std2 + "Table 5.1(A)", V40},
	{"internal.ratio0.5", "lo hi", []float64{-0.3, 0}, std2 + "Table 5.1(B), ratio up to 0.5, any surface", V40},
	{"internal.ratio1.windward", "lo hi", []float64{-0.1, 0.2}, std2 + "Table 5.1(B), ratio 1", V40},
	{"internal.ratio1.other", "lo hi", []float64{-0.3, 0}, std2 + "Table 5.1(B), ratio 1", V40},
	{"internal.windward_share", "ratio2 ratio3 ratio6", []float64{0.7, 0.85, 1}, std2 + "Table 5.1(B), windward wall, share of Cp,e", V40},
	{"internal.other_share", "ratio2 ratio3 ratio6", []float64{1, 1, 1}, std2 + "Table 5.1(B), leeward and side wall, roof, share of Cp,e", V40},
	{"internal.volume", "least base slope most", []float64{0.85, 1.01, 0.15, 1.085}, std2 + "5.3.4, Kv", V40},
	{"internal.volume.range", "from to", []float64{0.09, 3}, std2 + "5.3.4, 100·A^1.5/Vol", V40},
	one("internal.volume.ratio", 6, std2+"5.3.4, least ratio of the largest opening to the others", V40),
	one("internal.local_applies", 1, std2+"Table 5.1(B): Kl of the opening's area multiplies Cp,e (0 leaves it out)", V40),
	one("internal.debris_ratio", 2, std2+"5.3.2, ratio of the opening assumed in regions B2, C, D", V40),
	one("internal.leak", 0.0001, std2+"5.3.1, open area of a wall whose leaks are not stated, as a share of its area", MM),
}

// wallRows: Table 5.2.
var wallRows = []row{
	one("wall.windward", 0.7, std2+"Table 5.2(A), speed at z = h", VOld),
	{"wall.leeward.flat", "db1 db2 db4", []float64{-0.5, -0.3, -0.2}, std2 + "Table 5.2(B), pitch under 10°, and wind along the ridge", V40},
	{"wall.leeward", "p10 p15 p20", []float64{-0.3, -0.3, -0.4}, std2 + "Table 5.2(B), wind across the ridge", V40},
	{"wall.leeward.p25", "db0.1 db0.3", []float64{-0.75, -0.5}, std2 + "Table 5.2(B), wind across the ridge, 25° and more", V40},
	{"wall.side", "h1 h2 h3 beyond", []float64{-0.65, -0.5, -0.3, -0.2}, std2 + "Table 5.2(C)", V40},
}

// roofRows: Tables 5.3(A), (B), (C). a and b are the two tabulated values.
var roofRows = []row{
	{"roof.flat.low.h0.5", "a b", []float64{-0.9, -0.4}, std2 + "Table 5.3(A), h/d up to 0.5, 0 to 0.5h", V40},
	{"roof.flat.low.h1", "a b", []float64{-0.9, -0.4}, std2 + "Table 5.3(A), h/d up to 0.5, 0.5h to 1h", V40},
	{"roof.flat.low.h2", "a b", []float64{-0.5, 0}, std2 + "Table 5.3(A), h/d up to 0.5, 1h to 2h", V40},
	{"roof.flat.low.h3", "a b", []float64{-0.3, 0.1}, std2 + "Table 5.3(A), h/d up to 0.5, 2h to 3h", V40},
	{"roof.flat.low.beyond", "a b", []float64{-0.2, 0.2}, std2 + "Table 5.3(A), h/d up to 0.5, beyond 3h", V40},
	{"roof.flat.tall.h0.5", "a b", []float64{-1.3, -0.6}, std2 + "Table 5.3(A), h/d from 1.0, 0 to 0.5h", M},
	{"roof.flat.tall.h1", "a b", []float64{-0.7, -0.3}, std2 + "Table 5.3(A), h/d from 1.0, 0.5h to 1h", M},
	{"roof.flat.tall.h2", "a b", []float64{-0.7, -0.3}, std2 + "Table 5.3(A), h/d from 1.0, 1h to 2h, to interpolate", M},

	{"roof.up.hd0.25.a", pitches, []float64{-0.7, -0.5, -0.3, -0.2, -0.2, 0, 0}, std2 + "Table 5.3(B), h/d up to 0.25", M},
	{"roof.up.hd0.25.b", lowPitches, []float64{-0.3, 0, 0.2, 0.3, 0.4, 0.5}, std2 + "Table 5.3(B), h/d up to 0.25", M},
	{"roof.up.hd0.5.a", pitches, []float64{-0.9, -0.7, -0.4, -0.3, -0.2, -0.2, 0}, std2 + "Table 5.3(B), h/d 0.5", M},
	{"roof.up.hd0.5.b", lowPitches, []float64{-0.4, -0.3, 0, 0.2, 0.3, 0.4}, std2 + "Table 5.3(B), h/d 0.5", M},
	{"roof.up.hd1.a", pitches, []float64{-1.3, -1.0, -0.7, -0.5, -0.3, -0.2, 0}, std2 + "Table 5.3(B), h/d from 1.0", M},
	{"roof.up.hd1.b", lowPitches, []float64{-0.6, -0.5, -0.3, 0, 0.2, 0.3}, std2 + "Table 5.3(B), h/d from 1.0", M},
	one("roof.up.steep", 0.8, std2+"Table 5.3(B), from 45°, times the sine of the pitch", M),

	{"roof.down.hd0.25", "p10 p15 p20", []float64{-0.3, -0.5, -0.6}, std2 + "Table 5.3(C), h/d up to 0.25", M},
	{"roof.down.hd0.5", "p10 p15 p20", []float64{-0.5, -0.5, -0.6}, std2 + "Table 5.3(C), h/d 0.5", M},
	{"roof.down.hd1", "p10 p15 p20", []float64{-0.7, -0.6, -0.6}, std2 + "Table 5.3(C), h/d from 1.0", M},
	{"roof.down.steep", "narrow rate offset wide", []float64{-0.6, -0.06, 7, -0.9}, std2 + "Table 5.3(C), from 25°, by b/d", M},
	one("roof.step", 0.5, std2+"Table 5.3: degrees about 10° in which both tables are taken", Own),
}

// pitches are the columns of Table 5.3(B), in degrees; the last, from 45°, is a formula in the second value.
const (
	lowPitches = "p10 p15 p20 p25 p30 p35"
	pitches    = lowPitches + " p45"
)

// reductionRows: Tables 5.4 and 5.5.
var reductionRows = []row{
	{"area.roof", "a10 a25 a100", []float64{1, 0.9, 0.8}, std2 + "Table 5.4, roofs and side walls", V40},
	{"area.windward", "a10 a25 a100", []float64{1, 0.95, 0.9}, std2 + "Table 5.4, windward walls, h < 25 m", V40},
	{"area.leeward", "a10 a25 a100", []float64{1, 1, 0.95}, std2 + "Table 5.4, leeward walls, h < 25 m", V40},
	{"combination", "two three", []float64{0.9, 0.8}, std2 + "Table 5.5", V40},
	one("combination.threshold", 0.4, std2+"5.4.3, |Cp,i| from which the inside counts as a surface", V40),
	one("combination.least", 0.8, std2+"5.4.3, least Ka·Kc,e", V40),
}

// localRows: Table 5.6 and clause 5.4.4, cladding, fixings, purlins and girts.
var localRows = []row{
	one("local.WA1", 1.5, std2+"Table 5.6", V40),
	one("local.RA1", 1.5, std2+"Table 5.6", V40),
	one("local.RA2", 2, std2+"Table 5.6", V40),
	one("local.RA3", 1.5, std2+"Table 5.6", V40),
	one("local.RA4", 2, std2+"Table 5.6", V40),
	one("local.RC1", 3, std2+"Table 5.6", V40),
	one("local.SA1", 1.5, std2+"Table 5.6", V40),
	one("local.SA2", 2, std2+"Table 5.6", V40),
	{"local.SA3", "SA3 SA4 SA5", []float64{1.5, 2, 3}, std2 + "Table 5.6, tall buildings", MM},
	one("local.tall", 1, std2+"Table 5.6, h/min(b, d) from which a building is tall", MM),
	one("local.a.plan", 0.2, std2+"5.4.4, a as a share of b and d", V40),
	{"local.a.low", "ratio heights", []float64{0.2, 2}, std2 + "5.4.4, a of a roof with h/b and h/d below the ratio, in heights", V40},
	{"local.area", "whole quarter", []float64{1, 0.25}, std2 + "Table 5.6, areas in a²", M},
	one("local.half", 0.5, std2+"Table 5.6, width of the inner zones in a", M),
	one("local.limit", -3, std2+"5.4.4, least Kl·Cp,e", V40),
	one("local.porosity", 1, std2+"5.4.5, Kp of sheeting", V40),
}

// dragRows: clause 5.5.
var dragRows = []row{
	{"friction", "across corrugated along", []float64{0.04, 0.02, 0.01}, std2 + "Table 5.8", V40},
	one("friction.ratio", 4, std2+"5.5, d/h or d/b above which drag is counted, and the length without it", V40),
}

// freeRoofRows: net coefficients of free roofs, positive down; w is the windward half, l the leeward; 1 and 2 are the
// tabulated pair (one value stands twice).
var freeRoofRows = []row{
	{"free.mono.empty.p0", four, []float64{-0.3, 0.4, -0.4, 0}, std2 + "Table B.4(A)", MM},
	{"free.mono.empty.high15", four, []float64{-1, -1, -0.6, 0}, std2 + "Table B.4(A), high edge upwind", V40},
	{"free.mono.empty.high30", four, []float64{-2.2, -2.2, -1.1, -0.2}, std2 + "Table B.4(A), high edge upwind", MM},
	{"free.mono.empty.low15", four, []float64{0.8, 0.8, -0.2, 0.4}, std2 + "Table B.4(A), low edge upwind", MM},
	{"free.mono.empty.low30", four, []float64{1.6, 1.6, 0.8, 0.8}, std2 + "Table B.4(A), low edge upwind", MM},
	{"free.mono.blocked.p0", four, []float64{-1, 0.4, -0.8, 0.4}, std2 + "Table B.4(A)", MM},
	{"free.mono.blocked.high15", four, []float64{-1.5, -1.5, -1, 0.2}, std2 + "Table B.4(A), high edge upwind", MM},
	{"free.mono.blocked.high30", four, []float64{-2.7, -2.7, -1.3, 0}, std2 + "Table B.4(A), high edge upwind", MM},
	{"free.gable.empty.p15", four, []float64{-0.3, 0.4, -0.4, 0}, std2 + "Table B.5", MM},
	{"free.gable.empty.p22.5", four, []float64{-0.3, 0.6, -0.6, 0}, std2 + "Table B.5", MM},
	{"free.gable.empty.p30", four, []float64{-0.3, 0.8, -0.7, 0}, std2 + "Table B.5", MM},
	{"free.gable.blocked.p15", four, []float64{-1.2, -1.2, -0.9, -0.9}, std2 + "Table B.5", MM},
	{"free.gable.blocked.p22.5", four, []float64{-0.9, -0.9, -1.1, -1.1}, std2 + "Table B.5", MM},
	{"free.gable.blocked.p30", four, []float64{-0.5, -0.5, -1.3, -1.3}, std2 + "Table B.5", MM},
	{"free.depth", "least most", []float64{0.25, 1}, std2 + "Tables B.4(A), B.5, range of h/d", MM},
	{"free.local", "edge strip corner", []float64{1.5, 2, 3}, std2 + "Table B.1", V40},
	one("free.local.a", 0.2, std2+"Table B.1, a as a share of the shortest plan dimension", V40),
}

const four = "w1 w2 l1 l2"
