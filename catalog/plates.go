package catalog

import (
	"slices"
	"sync"
)

// Plate is a thickness of plate or flat bar, for base plates, end plates, gussets and cleats.
type Plate struct {
	Product  string  // "plate" or "flat"
	T        float64 // thickness, m
	Standard string  // product standard
	Grade    Grade
}

// Mass returns kg per m2.
func (p Plate) Mass() float64 { return p.T * Density }

// Plates lists plate and flat bar by product, grade and thickness, as in data/plate.csv. The strengths are from memory.
func Plates() []Plate { return slices.Clone(plates()) }

var plates = sync.OnceValue(func() []Plate {
	f, err := data.Open("data/plate.csv")
	if err != nil {
		panic("catalog: embedded list: " + err.Error())
	}
	defer f.Close()
	cols := []string{"product", "t_mm", "standard", "grade", "fy_mpa", "fu_mpa"}
	t := openTable(f, "data/plate.csv", cols, cols)
	var out []Plate
	for t.next() {
		thick, _ := t.number("t_mm", false, 200)
		fy, _ := t.number("fy_mpa", false, 2000)
		fu, _ := t.number("fu_mpa", false, 2000)
		g := Grade{Name: t.text("grade"), Fy: mpa(fy), FyW: mpa(fy), Fu: mpa(fu), Mark: FromMemory}
		out = append(out, Plate{Product: t.text("product"), T: mm(thick), Standard: t.text("standard"), Grade: g})
	}
	if err := t.errs.err(); err != nil {
		panic("catalog: embedded list: " + err.Error())
	}
	return out
})
