package catalog

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
)

// InputError is a mistake at a place of a file.
type InputError struct {
	File         string
	Line, Column int // from 1; a column counts bytes
	Msg          string
}

func (e *InputError) Error() string {
	return fmt.Sprintf("%s:%d:%d: %s", e.File, e.Line, e.Column, e.Msg)
}

// InputErrors are all mistakes of a file, in the order of lines.
type InputErrors []*InputError

func (es InputErrors) Error() string {
	lines := make([]string, len(es))
	for i, e := range es {
		lines[i] = e.Error()
	}
	return strings.Join(lines, "\n")
}

// err returns es as an error, nil if there are none.
func (es InputErrors) err() error {
	if len(es) == 0 {
		return nil
	}
	slices.SortStableFunc(es, func(a, b *InputError) int {
		if a.Line != b.Line {
			return a.Line - b.Line
		}
		return a.Column - b.Column
	})
	return es
}

// OwnSections is the form of a user's file of sections, for help texts.
const OwnSections = `The first row names the columns, in any order; lines that begin with # are comments. Lengths are in mm.

  family       RHS, SHS, CHS, UB, PFC, EA, ROD, C or Z
  designation  the name to be called by
  d_mm         overall depth; diameter (CHS, ROD); leg (EA)
  b_mm         overall width (RHS, SHS); flange width (UB, PFC, C); wide flange (Z)
  f_mm         narrow flange (Z)
  lip_mm       overall lip (C, Z)
  t_mm         wall thickness (RHS, SHS, CHS, EA, C, Z)
  tf_mm tw_mm  flange and web thickness (UB, PFC)
  ro_mm ri_mm  outer and inner corner radius (RHS, SHS; left out, outer 2.0 t up to 3 mm and 2.5 t above);
               ri_mm of C and Z
  r1_mm r2_mm  root radius (UB, PFC, EA) and toe radius (EA); left out, 0
  pitch_mm     thread pitch (ROD)
  grades       names of the family's grades, parted by /, the default first; left out, those of its standard
  fy_mpa       yield stress, in place of the standard's; then give one grade name (any) and fu_mpa
  fyw_mpa      yield stress of the web; left out, fy_mpa
  fu_mpa       tensile strength
  source       where the dimensions come from; left out, the file's name

For example:

  family,designation,d_mm,b_mm,t_mm
  RHS,Heavy post,150,90,6
`

// Load reads a user's own sections from CSV; name is the file's, for messages. All mistakes are collected, each with
// file:line:column (an InputErrors). OwnSections says how the file is written.
func Load(r io.Reader, name string) ([]*Section, error) {
	return readSections(r, name, nil)
}

// source is where the rows of our own lists were seen.
type source struct {
	mark     Mark
	citation string
}

// table is a CSV file with named columns, read row by row.
type table struct {
	csv    *csv.Reader
	file   string
	index  map[string]int
	row    []string
	errs   InputErrors
	closed bool
}

// openTable reads the heading; known are the columns that may occur.
func openTable(r io.Reader, file string, known, needed []string) *table {
	t := &table{csv: csv.NewReader(r), file: file, index: map[string]int{}}
	t.csv.Comment = '#'
	t.csv.FieldsPerRecord = -1
	t.csv.TrimLeadingSpace = true
	if !t.next() {
		if len(t.errs) == 0 {
			t.errs = append(t.errs, &InputError{file, 1, 1, "no heading row; the first row names the columns"})
		}
		return t
	}
	for i, h := range t.row {
		h = strings.ToLower(strings.TrimSpace(strings.TrimPrefix(h, "\ufeff")))
		if _, twice := t.index[h]; twice {
			t.failAt(i, "column %q occurs twice", h)
		} else if !slices.Contains(known, h) {
			t.failAt(i, "unknown column %q; columns: %s", h, strings.Join(known, ", "))
		}
		t.index[h] = i
	}
	for _, n := range needed {
		if _, ok := t.index[n]; !ok {
			t.failAt(0, "column %q is missing", n)
		}
	}
	t.closed = len(t.errs) > 0 // without its columns no row can be read
	return t
}

// next moves to the next row; false at the end, or at a place that is no CSV.
func (t *table) next() bool {
	if t.closed {
		return false
	}
	row, err := t.csv.Read()
	if err != nil {
		t.closed = true
		var p *csv.ParseError
		switch {
		case errors.As(err, &p):
			t.errs = append(t.errs, &InputError{t.file, p.Line, max(1, p.Column), p.Err.Error()})
		case err != io.EOF:
			t.errs = append(t.errs, &InputError{t.file, 1, 1, err.Error()})
		}
		return false
	}
	t.row = row
	if len(t.index) > 0 && len(row) > len(t.index) {
		t.failAt(len(t.index), "%d fields in a row of %d columns", len(row), len(t.index))
	}
	return true
}

// failAt notes a mistake at field i of the row.
func (t *table) failAt(i int, format string, args ...any) {
	line, col := 1, 1
	if len(t.row) > 0 {
		line, col = t.csv.FieldPos(max(0, min(i, len(t.row)-1)))
	}
	t.errs = append(t.errs, &InputError{t.file, line, col, fmt.Sprintf(format, args...)})
}

// fail notes a mistake in the named column of the row.
func (t *table) fail(column, format string, args ...any) {
	i, ok := t.index[column]
	if !ok {
		i = 0
	}
	t.failAt(i, format, args...)
}

// text returns the field of a column, empty if there is none.
func (t *table) text(column string) string {
	i, ok := t.index[column]
	if !ok || i >= len(t.row) {
		return ""
	}
	return strings.TrimSpace(t.row[i])
}

// number returns the number in a column, which must lie above zero (or at it, if zero is allowed) and up to most; given
// tells whether there is one.
func (t *table) number(column string, zero bool, most float64) (v float64, given bool) {
	s := t.text(column)
	if s == "" {
		return 0, false
	}
	v, err := strconv.ParseFloat(s, 64)
	switch {
	case err != nil || math.IsNaN(v):
		t.fail(column, "%s: %q is no number", column, s)
	case v < 0 || (v == 0 && !zero):
		t.fail(column, "%s: %s must be above zero", column, s)
	case v > most:
		t.fail(column, "%s: %s is more than %g; check the unit", column, s, most)
	default:
		return v, true
	}
	return 0, true
}

// readSections reads a list. With sources it is one of our own, whose rows name their source by key; without, a user's.
func readSections(r io.Reader, name string, sources map[string]source) ([]*Section, error) {
	known := []string{"family", "designation"}
	for _, c := range columns {
		known = append(known, c.name)
	}
	known = append(known, "grades", "fy_mpa", "fyw_mpa", "fu_mpa", "source")
	t := openTable(r, name, known, known[:3])
	var out []*Section
	seen := map[string]bool{}
	for t.next() {
		before := len(t.errs)
		s := t.section(sources)
		if key := squeeze(s.Name); key != "" && seen[key] {
			t.fail("designation", "section %q occurs twice", s.Name)
		} else {
			seen[key] = true
		}
		if len(t.errs) > before {
			continue
		}
		s.Props = compute(s.Family, s.Dims)
		out = append(out, s)
	}
	if err := t.errs.err(); err != nil {
		return nil, err
	}
	return out, nil
}

// section reads one row; mistakes are noted in t.
func (t *table) section(sources map[string]source) *Section {
	s := &Section{Name: t.text("designation"), Family: Family(strings.ToUpper(t.text("family")))}
	if squeeze(s.Name) == "" {
		t.fail("designation", "the section has no designation")
	}
	if !slices.Contains(families, s.Family) {
		t.fail("family", "unknown family %q; families: %s", t.text("family"), joinFamilies())
		return s
	}
	before := len(t.errs)
	s.Dims = t.dims(s.Family)
	if len(t.errs) == before {
		s.Dims.complete(s.Family)
		for _, f := range s.Dims.check(s.Family) {
			t.fail(f.column, "%s: %s", s.Name, f.msg)
		}
	}
	s.Grades = t.grades(s)
	s.Mark, s.Source = UserGiven, t.text("source")
	if s.Source == "" {
		s.Source = t.file
	}
	if sources != nil {
		src, ok := sources[s.Source]
		if !ok {
			t.fail("source", "unknown source %q", s.Source)
		}
		s.Mark, s.Source = src.mark, src.citation
	}
	return s
}

func joinFamilies() string {
	names := make([]string, len(families))
	for i, f := range families {
		names[i] = string(f)
	}
	return strings.Join(names, ", ")
}

// dims reads the dimensions of a row.
func (t *table) dims(f Family) Dims {
	const most = 3000 // mm: no section of a shed is deeper; a greater number is in the wrong unit
	var d Dims
	for _, c := range columns {
		needed, may := slices.Contains(c.needs, f), slices.Contains(c.may, f)
		v, given := t.number(c.name, may, most)
		switch {
		case needed && !given:
			t.fail(c.name, "%s needs %s", f, c.name)
		case given && v > 0 && !needed && !may:
			t.fail(c.name, "%s has no %s; leave it empty", f, c.name)
		}
		*c.field(&d) = mm(v)
	}
	return d
}

// grades reads the grades of a row, or gives those of the family's standard.
func (t *table) grades(s *Section) []Grade {
	const most = 2000 // MPa
	var given []string
	for _, g := range strings.Split(t.text("grades"), "/") {
		if g = strings.TrimSpace(g); g != "" {
			given = append(given, g)
		}
	}
	fy, hasFy := t.number("fy_mpa", false, most)
	fu, hasFu := t.number("fu_mpa", false, most)
	fyw, hasFyw := t.number("fyw_mpa", false, most)
	if hasFy || hasFu || hasFyw {
		return t.ownGrade(given, fy, fyw, fu, hasFy && hasFu)
	}
	if len(given) == 0 {
		given = gradeNames(s.Family, s.Dims)
	}
	var out []Grade
	for _, name := range given {
		g, ok := gradeOf(s.Family, s.Dims, strings.ToUpper(name))
		if !ok {
			t.fail("grades", "%s has no grade %q; grades: %s; for another give fy_mpa and fu_mpa", s.Family, name, strings.Join(knownGrades(s.Family), ", "))
			continue
		}
		out = append(out, g)
	}
	return out
}

// ownGrade is a grade whose strengths (MPa) the user gives.
func (t *table) ownGrade(names []string, fy, fyw, fu float64, both bool) []Grade {
	switch {
	case !both:
		t.fail("fy_mpa", "fy_mpa and fu_mpa go together: give both or neither")
		return nil
	case len(names) != 1:
		t.fail("grades", "fy_mpa needs one grade name, got %d", len(names))
		return nil
	case fu < fy:
		t.fail("fu_mpa", "fu_mpa %g is below fy_mpa %g", fu, fy)
		return nil
	}
	if fyw == 0 {
		fyw = fy
	}
	return []Grade{{Name: names[0], Fy: mpa(fy), FyW: mpa(fyw), Fu: mpa(fu), Mark: UserGiven}}
}

// readSources reads the embedded list of sources.
func readSources() (map[string]source, error) {
	f, err := data.Open("data/sources.csv")
	if err != nil {
		return nil, err
	}
	defer f.Close()
	cols := []string{"key", "mark", "citation"}
	t := openTable(f, "data/sources.csv", cols, cols)
	out := map[string]source{}
	for t.next() {
		out[t.text("key")] = source{Mark(t.text("mark")), t.text("citation")}
	}
	return out, t.errs.err()
}
