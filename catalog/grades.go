package catalog

import (
	"fmt"
	"math"
	"strings"
)

// standard groups families by the product standard that gives their strengths.
type standard int

const (
	hollowSections standard = iota
	hotRolled
	roundBars
	coldFormed
)

// standardOf returns a family's product standard.
func standardOf(f Family) standard {
	switch f {
	case RHS, SHS, CHS:
		return hollowSections
	case Rod:
		return roundBars
	case C, Z:
		return coldFormed
	}
	return hotRolled
}

// strength is one row of a product standard: the strengths of thicknesses above the row before of the same grade, up to
// and including upTo.
type strength struct {
	of    standard
	grade string
	upTo  float64 // mm, inclusive
	fy    float64 // MPa
	fu    float64 // MPa
	mark  Mark
}

// justUnder turns an inclusive limit into an exclusive one: far below any rolling tolerance.
const justUnder = 1e-6 // mm

// strengths are the yields and tensile strengths by thickness. Rows of one grade are in rising thickness. Where a family
// offers several grades the first listed is its default.
var strengths = []strength{
	{hollowSections, "C350L0", math.Inf(1), 350, 430, Verified},             // AS/NZS 1163, through published capacities
	{hollowSections, "C450L0", math.Inf(1), 450, 500, Verified},             // AS/NZS 1163, through published capacities
	{hollowSections, "C250L0", math.Inf(1), 250, 320, Verified},             // AS/NZS 1163, through published capacities
	{hotRolled, "300", 11 - justUnder, 320, 440, FromMemory},                // AS/NZS 3679.1 grade 300, t < 11
	{hotRolled, "300", 17, 300, 440, FromMemory},                            // AS/NZS 3679.1 grade 300, 11 <= t <= 17
	{hotRolled, "300", math.Inf(1), 280, 440, FromMemory},                   // AS/NZS 3679.1 grade 300, t > 17
	{roundBars, "300", 50, 300, 440, FromMemory},                            // AS/NZS 3679.1 grade 300, rounds up to 50 mm
	{roundBars, "300", math.Inf(1), 280, 440, Doubtful},                     // AS/NZS 3679.1 grade 300, thicker rounds: safe side
	{roundBars, "250", math.Inf(1), 250, 410, FromMemory},                   // merchant bar
	{coldFormed, "G450", math.Inf(1), 450, 480, FromMemory},                 // AS 1397, t >= 1.5
	{coldFormed, "G500", math.Inf(1), 500, 520, FromMemory},                 // AS 1397, 1.0 < t < 1.5
	{coldFormed, "G550", 0.6 - justUnder, 0.75 * 550, 0.75 * 550, Doubtful}, // AS/NZS 4600 1.5.1.4, t < 0.6
	{coldFormed, "G550", 0.9 - justUnder, 0.90 * 550, 0.90 * 550, Doubtful}, // AS/NZS 4600 1.5.1.4, 0.6 <= t < 0.9
	{coldFormed, "G550", math.Inf(1), 550, 550, FromMemory},                 // AS 1397, t <= 1.0
}

// coldFormedGrade is the AS 1397 grade in which a base metal thickness (mm) is usually rolled.
func coldFormedGrade(t float64) string {
	switch {
	case t <= 1.0:
		return "G550"
	case t < 1.5:
		return "G500"
	}
	return "G450"
}

// strengthOf returns the row that governs thickness t (m).
func strengthOf(m standard, grade string, t float64) (strength, bool) {
	for _, s := range strengths {
		if s.of == m && s.grade == grade && t*1000 <= s.upTo+1e-9 {
			return s, true
		}
	}
	return strength{}, false
}

// governing returns the thicknesses (m) that fix the yields of flange and web.
func (d Dims) governing(f Family) (flange, web float64) {
	switch f {
	case UB, PFC:
		return d.Tf, d.Tw
	case Rod:
		return d.D, d.D
	}
	return d.T, d.T
}

// gradeOf returns the grade of that name as it applies to a section, or false if the family's standard has none such.
func gradeOf(f Family, d Dims, name string) (Grade, bool) {
	tf, tw := d.governing(f)
	flange, ok := strengthOf(standardOf(f), name, tf)
	if !ok {
		return Grade{}, false
	}
	web, _ := strengthOf(standardOf(f), name, tw)
	return Grade{Name: name, Fy: mpa(flange.fy), FyW: mpa(web.fy), Fu: mpa(flange.fu), Mark: flange.mark}, true
}

// gradeNames lists the grades of a family in the order of the table, the default first. Cold-formed sections have the
// one that their thickness is rolled in.
func gradeNames(f Family, d Dims) []string {
	if standardOf(f) == coldFormed {
		return []string{coldFormedGrade(d.T * 1000)}
	}
	return knownGrades(f)
}

// knownGrades lists every grade of the family's standard.
func knownGrades(f Family) []string {
	var names []string
	for _, s := range strengths {
		if s.of == standardOf(f) && (len(names) == 0 || names[len(names)-1] != s.grade) {
			names = append(names, s.grade)
		}
	}
	return names
}

// UnknownGradeError says that a section is not listed in a grade, and in which it is.
type UnknownGradeError struct {
	Section string
	Grade   string
	Known   []string
}

func (e *UnknownGradeError) Error() string {
	return fmt.Sprintf("%s has no grade %q; its grades: %s", e.Section, e.Grade, strings.Join(e.Known, ", "))
}

// Grade returns the section's grade of that name, with the yields of its thicknesses (Pa). Case, spaces and the word
// "grade" do not matter, and a hollow section's impact suffix may be left out (C350 for C350L0). An empty name gives the
// default, the first. The error is an *UnknownGradeError.
func (s *Section) Grade(name string) (Grade, error) {
	want := squeeze(name)
	want = strings.TrimPrefix(strings.TrimPrefix(want, "GRADE"), "GR")
	if want == "" && strings.TrimSpace(name) == "" && len(s.Grades) > 0 {
		return s.Grades[0], nil
	}
	for _, g := range s.Grades {
		if have := squeeze(g.Name); want == have || want+"L0" == have {
			return g, nil
		}
	}
	known := make([]string, len(s.Grades))
	for i, g := range s.Grades {
		known[i] = g.Name
	}
	return Grade{}, &UnknownGradeError{Section: s.Name, Grade: name, Known: known}
}
