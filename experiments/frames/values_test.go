package frames

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"
)

var numberText = regexp.MustCompile(`[: \[]-?[0-9][0-9.e+-]*[,}\]]`)

// FuzzValues puts two odd values in places of a valid file and asks for each analysis: it is refused, or answered with
// finite numbers.
func FuzzValues(f *testing.F) {
	for i, v := range []float64{0, -1, 1e-30, 1e30, 1e-6, 1e6, 1e12, 3, 0.5, math.MaxFloat64, 1e-300} {
		f.Add(uint8(7*i), v, uint8(11*i+3), -v, uint8(i))
	}
	f.Fuzz(func(t *testing.T, at uint8, v float64, at2 uint8, v2 float64, kind uint8) {
		text := strings.Replace(everything, `"tension_only", "expected"`, `"`+analyses[int(kind)%len(analyses)]+`", "expected"`, 1)
		for _, put := range []struct {
			at uint8
			v  float64
		}{{at, v}, {at2, v2}} {
			places := numberText.FindAllStringIndex(text, -1)
			p := places[int(put.at)%len(places)]
			text = text[:p[0]+1] + fmt.Sprintf("%g", put.v) + text[p[1]-1:]
		}
		file, err := Read("f.json", []byte(text))
		if err != nil {
			return
		}
		a, err := Analyse(file, Options{Stations: 3})
		if err != nil {
			return
		}
		for _, c := range a.Cases {
			for _, d := range c.Displacements {
				for _, u := range d {
					if math.IsNaN(u) || math.IsInf(u, 0) {
						t.Fatalf("not finite in %s:\n%s", c.ID, text)
					}
				}
			}
		}
	})
}
