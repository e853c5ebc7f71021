package asnzs1170

// eventRows: annual probabilities of the design event as recurrence in years, by jurisdiction and importance level.
var eventRows = []row{
	{"recurrence.AU.1", "wind cyclonic snow earthquake", []float64{100, 200, 100, 250}, ncc + "B1D3, Tables B1D3a, B1D3b", V},
	{"recurrence.AU.2", "wind cyclonic snow earthquake", []float64{500, 500, 150, 500}, ncc + "B1D3, Tables B1D3a, B1D3b", V},
	{"recurrence.AU.3", "wind cyclonic snow earthquake", []float64{1000, 1000, 200, 1000}, ncc + "B1D3, Tables B1D3a, B1D3b", M},
	{"recurrence.AU.4", "wind cyclonic snow earthquake", []float64{2000, 2000, 250, 1500}, ncc + "B1D3, Tables B1D3a, B1D3b", M},
	{"recurrence.WA_D", "1 2", []float64{250, 1000}, ncc + "WA B1D3, region D north of the Tropic of Capricorn", V},
	{"recurrence.NZ.1", "wind snow earthquake", []float64{100, 50, 100}, std0 + "Table 3.3", M},
	{"recurrence.NZ.2", "wind snow earthquake", []float64{500, 150, 500}, std0 + "Table 3.3", M},
	{"recurrence.NZ.3", "wind snow earthquake", []float64{1000, 250, 1000}, std0 + "Table 3.3", M},
	{"recurrence.NZ.4", "wind snow earthquake", []float64{2500, 500, 2500}, std0 + "Table 3.3", M},
	one("recurrence.service.wind", 25, std0+"Appendix C", VOld),
}

// siteRows: V_R = a - b·R^-exponent (m/s), and the multipliers of sections 2 to 4. Directions run clockwise from north.
var siteRows = []row{
	{"speed.A", "a b exponent", []float64{67, 41, 0.1}, std2 + "Table 3.1(A)", V40},
	{"speed.B", "a b exponent", []float64{106, 92, 0.1}, std2 + "Table 3.1(A)", V40},
	{"speed.C", "a b exponent", []float64{122, 104, 0.1}, std2 + "Table 3.1(A)", V40},
	{"speed.D", "a b exponent", []float64{156, 142, 0.1}, std2 + "Table 3.1(A)", V40},
	{"speed.yearly", "A B C D", []float64{30, 26, 23, 23}, std2 + "Table 3.1(A), R = 1", V40},
	one("speed.least_ultimate", 30, std2+"2.3", M),
	one("air_density", 1.2, std2+"2.4.1", V),
	one("dynamic", 1, std2+"6.1, first frequency above 1 Hz", M),
	{"climate", "A B1 B2 C D NZ", []float64{1, 1, 1.05, 1.05, 1.05, 1}, std2 + "Table 3.3", V},

	{"direction.A0", eight, []float64{0.90, 0.85, 0.85, 0.90, 0.90, 0.95, 1.00, 0.95}, std2 + "Table 3.2(A)", V40},
	{"direction.A1", eight, []float64{0.90, 0.85, 0.85, 0.80, 0.80, 0.95, 1.00, 0.95}, std2 + "Table 3.2(A)", V40},
	{"direction.A2", eight, []float64{0.85, 0.75, 0.85, 0.95, 0.95, 0.95, 1.00, 0.95}, std2 + "Table 3.2(A)", V},
	{"direction.A3", eight, []float64{0.90, 0.75, 0.75, 0.90, 0.90, 0.95, 1.00, 0.95}, std2 + "Table 3.2(A)", V40},
	{"direction.A4", eight, []float64{0.85, 0.75, 0.75, 0.80, 0.80, 0.90, 1.00, 1.00}, std2 + "Table 3.2(A)", V40},
	{"direction.A5", "N NE SE S SW W NW", []float64{0.95, 0.80, 0.80, 0.80, 0.95, 1.00, 0.95}, std2 + "Table 3.2(A)", V40},
	one("direction.A5.E", 0.80, std2+"Table 3.2(A); another reading has 0.75", MM),
	{"direction.B1", eight, []float64{0.75, 0.75, 0.85, 0.90, 0.95, 0.95, 0.95, 0.90}, std2 + "Table 3.2(A)", V40},
	one("direction.cyclonic.frame", 0.90, std2+"Table 3.2(A), regions B2, C, D, main frame", V),
	one("direction.cyclonic.cladding", 1.00, std2+"3.3(b), cladding and its immediate supports", V40),

	{"terrain.TC1", heights, []float64{0.97, 1.01, 1.08, 1.12, 1.14, 1.18, 1.21, 1.23}, std2 + "Table 4.1", V40},
	{"terrain.TC2", heights, []float64{0.91, 0.91, 1.00, 1.05, 1.08, 1.12, 1.16, 1.18}, std2 + "Table 4.1", V40},
	{"terrain.TC2.5", heights, []float64{0.87, 0.87, 0.92, 0.97, 1.01, 1.06, 1.10, 1.13}, std2 + "Table 4.1", V40},
	{"terrain.TC3", heights, []float64{0.83, 0.83, 0.83, 0.89, 0.94, 1.00, 1.04, 1.07}, std2 + "Table 4.1", V40},
	{"terrain.TC4", heights, []float64{0.75, 0.75, 0.75, 0.75, 0.75, 0.80, 0.85, 0.90}, std2 + "Table 4.1", V40},
	one("terrain.A0", 2, std2+"4.2.2, region A0 takes this category whatever the terrain", V),

	{"shielding", "s1.5 s3 s6 s12", []float64{0.7, 0.8, 0.9, 1.0}, std2 + "Table 4.2", V40},
	{"shielding.length", "a b", []float64{10, 5}, std2 + "4.3.3, ls = h(a/ns + b)", V40},
	{"shielding.limit", "height slope", []float64{25, 0.2}, std2 + "4.3.1", V40},

	{"hill", "least_slope steep_slope spread", []float64{0.05, 0.45, 3.5}, std2 + "4.4.2", VOld},
	{"hill.L1", "half height", []float64{0.36, 0.4}, std2 + "4.4.2", VOld},
	{"hill.L2", "hill escarpment", []float64{4, 10}, std2 + "4.4.2", VOld},
	{"hill.separation", "peak length height", []float64{0.71, 0.25, 0.1}, std2 + "4.4.2", VOld},
	one("hill.least_height", 10, std2+"4.4.2", V40),
	{"hill.A0", "base share", []float64{0.5, 0.5}, std2 + "4.4.1, region A0", V40},
	{"hill.altitude", "from rate", []float64{500, 0.00015}, std2 + "4.4.1, regions A4 and NZ", V40},
}

// eight are the compass directions in the order of actions.Site's arrays.
const eight = "N NE E SE S SW W NW"

// heights are the columns of Table 4.1, in metres.
const heights = "z3 z5 z10 z15 z20 z30 z40 z50"
