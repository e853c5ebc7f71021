package asnzs1170

// imposedRows: AS/NZS 1170.1. Floors: kPa over the area, and kN on a point.
var imposedRows = []row{
	{"roof.imposed", "slope base least", []float64{1.8, 0.12, 0.25}, std1 + "Table 3.2, kPa: slope/A + base, not below least", M},
	{"roof.imposed.point", "member cladding", []float64{1.4, 1.1}, std1 + "Table 3.2, kN, not together with the area load", M},
	{"roof.accessible", "area point", []float64{1.5, 1.8}, std1 + "Table 3.2, roof used as a floor, kPa and kN", M},
	{"floor.office", "area point", []float64{3, 2.7}, std1 + "Table 3.1", V},
	{"floor.workroom", "area point", []float64{3, 3.5}, std1 + "Table 3.1", M},
	{"floor.workshop", "area point", []float64{5, 4.5}, std1 + "Table 3.1", M},
	{"floor.plant", "area point", []float64{5, 4.5}, std1 + "Table 3.1", M},
	{"floor.storage", "area point per_metre", []float64{5, 7, 2.4}, std1 + "Table 3.1, per_metre of stored height", V},
	{"floor.file_room", "area point", []float64{5, 4.5}, std1 + "Table 3.1", M},
	{"floor.shop", "area point", []float64{4, 3.6}, std1 + "Table 3.1", V},
	{"floor.stairs", "area point", []float64{4, 4.5}, std1 + "Table 3.1", M},
	{"floor.vehicles", "area point", []float64{2.5, 13}, std1 + "Table 3.1, light vehicles to 2.5 t", M},
	one("floor.partitions", 0.5, std1+"2.3, least permanent action of movable partitions, kPa", V),
	{"floor.reduction", "base slope least", []float64{0.3, 3, 0.5}, std1 + "3.4.2, base + slope/√A, not for storage, workshops, vehicles", M},
	{"barrier", "rail infill", []float64{0.75, 1}, std1 + "Table 3.3, kN/m and kPa, work and storage areas", M},
}

// combinationRows: AS/NZS 1170.0 Table 4.1 and section 4.
var combinationRows = []row{
	{"psi.general", "s l c E", []float64{0.7, 0.4, 0.4, 0.3}, std0 + "Table 4.1, office, retail, parking, residential", M},
	{"psi.storage", "s l c E", []float64{1, 0.6, 0.6, 0.6}, std0 + "Table 4.1, storage, other", M},
	{"psi.roof_floor", "s l c E", []float64{0.7, 0.4, 0.4, 0.3}, std0 + "Table 4.1, roof used as a floor", M},
	{"psi.roof", "s l c E", []float64{0.7, 0, 0, 0}, std0 + "Table 4.1, other roof", M},
	{"psi.machinery", "s l c E", []float64{1, 1, 1.2, 1}, std0 + "Table 4.1, long-term machinery", M},
	{"combination.strength", "G_alone G Q G_uplift G_earthquake", []float64{1.35, 1.2, 1.5, 0.9, 1}, std0 + "4.2.2", V},
	{"combination.stability", "G_alone G Q G_holding", []float64{1.35, 1.2, 1.5, 0.9}, std0 + "4.2.1", M},
	{"combination.action", "Wu Su Eu Ws", []float64{1, 1, 1, 1}, std0 + "4.2.2, 4.3: the event's probability is in the action", V},
}

// snowRows: AS/NZS 1170.3.
var snowRows = []row{
	{"snow.shape", "full limit slope_range", []float64{0.7, 10, 50}, std3 + "5, μ1: full to the limit (°), falling to 0 over the range", M},
	one("snow.exposure", 1, std3+"4.2, sub-alpine", MM),
	{"snow.unbalanced", "loaded bare", []float64{1, 0}, std3 + "5, share of μ1 on the loaded and on the bare slope of a gable", MM},
	one("snow.service", 1, std3+"share of the strength snow that counts in service", Own),
}

// earthquakeRows: AS 1170.4. Spectral shapes: plateau, then v/T to 1.5 s, then d/T².
var earthquakeRows = []row{
	{"earthquake.kp", "R100 R200 R250 R500 R1000 R1500 R2000 R2500", []float64{0.5, 0.7, 0.75, 1, 1.3, 1.5, 1.7, 1.8}, std4 + "Table 3.1", M},
	one("earthquake.least_Z", 0.08, std4+"3.2 (Amendment 2, 2018)", M),
	{"earthquake.least_kpZ", "R500 R1000 R1500 R2000 R2500", []float64{0.08, 0.10, 0.12, 0.14, 0.15}, std4 + "Table 3.3 (Amendment 2, 2018)", M},
	{"earthquake.Ae", "plateau v d", []float64{2.35, 0.704, 1.056}, std4 + "Table 6.4", M},
	{"earthquake.Be", "plateau v d", []float64{2.94, 0.88, 1.32}, std4 + "Table 6.4", M},
	{"earthquake.Ce", "plateau v d", []float64{3.68, 1.25, 1.874}, std4 + "Table 6.4", M},
	{"earthquake.De", "plateau v d", []float64{3.68, 1.98, 2.97}, std4 + "Table 6.4", M},
	{"earthquake.Ee", "plateau v d", []float64{3.68, 3.08, 4.62}, std4 + "Table 6.4", M},
	{"earthquake.kt", "frame eccentric other", []float64{0.11, 0.06, 0.05}, std4 + "6.2.3", M},
	{"earthquake.period", "factor power corner", []float64{1.25, 0.75, 1.5}, std4 + "6.2.3 and Table 6.4", M},
	{"earthquake.performance", "ordinary ductile", []float64{0.385, 0.67 / 3}, std4 + "Table 6.5(A), Sp/μ", M},
	{"earthquake.psi", "storage other", []float64{0.6, 0.3}, std4 + "6.2.2, share of the imposed action in the weight", M},
	one("earthquake.eccentricity", 0.1, std4+"6.6", M),
	one("earthquake.least_share", 0.8, std4+"6.2.3, least share of the base shear by the code's period", M),
	{"earthquake.height", "from to", []float64{0.5, 2.5}, std4 + "6.3, periods between which k grows from 1 to 2", M},
	one("earthquake.NZ.coefficient", 0, "NZS 1170.5, horizontal design action coefficient: not covered, to be given", MM),
}

// notionalRows: AS 4100 and AS/NZS 1170.0 section 6.
var notionalRows = []row{
	one("notional.fraction", 0.002, as4100+"3.2.4", M),
	one("robustness.fraction", 0.015, std0+"6.2.2, levels up to 15 m", MM),
}

// guideRows: deflection guides as span (or height) over the value; advice, not law.
var guideRows = []row{
	{"guide.eaves", "sheeted masonry", []float64{150, 250}, as4100 + "Appendix B", V40},
	{"guide.frames_apart", "plain crane", []float64{200, 250}, as4100 + "Appendix B", V40},
	{"guide.rafter", "G Q Ws", []float64{360, 240, 150}, "trade practice", M},
	{"guide.purlin", "G Q Ws", []float64{300, 180, 150}, "trade practice", M},
	{"guide.girt", "Ws", []float64{150}, "trade practice; " + std0 + "Table C1", M},
	{"guide.mezzanine", "total Q brittle", []float64{250, 360, 500}, "trade practice; " + std0 + "Table C1", M},
}
