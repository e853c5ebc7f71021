package sizing

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// forecastOf returns the forecast around a point, with the analyser that tells the truth.
func forecastOf(t *testing.T, truss *Truss, point []int) (*forecast, *barAnalyser) {
	t.Helper()
	model, err := newModel(truss)
	if err != nil {
		t.Fatal(err)
	}
	p := newProblem(truss, func() analyser { return newBarAnalyser(truss, model) })
	f, err := p.NewEvaluator().(*evaluator).Forecast(context.Background(), point, "")
	if err != nil || f == nil {
		t.Fatal(f, err)
	}
	f.At(point)
	return f.(*forecast), newBarAnalyser(truss, model)
}

func truth(t *testing.T, a *barAnalyser, truss *Truss, point []int) float64 {
	t.Helper()
	areas := make([]float64, len(point))
	for g, o := range point {
		areas[g] = truss.Areas[o]
	}
	var r response
	if err := a.analyse(areas, &r); err != nil {
		t.Fatal(err)
	}
	return r.greatest() - 1
}

// At its centre a forecast is the analysis. In a determinate truss it is the analysis everywhere.
func TestForecastIsExactAtItsCentreAndInDeterminateTrusses(t *testing.T) {
	names, texts := Shipped()
	rng := rand.New(rand.NewPCG(7, 8))
	for i, name := range names {
		truss, err := Read(name, texts[i])
		if err != nil {
			t.Fatal(err)
		}
		point := make([]int, len(truss.Groups))
		for g := range point {
			point[g] = rng.IntN(len(truss.Areas))
		}
		f, a := forecastOf(t, truss, point)
		want := truth(t, a, truss, point)
		if got := f.Excess(point, math.Inf(1)); math.Abs(got-want) > 1e-9*(1+want) {
			t.Errorf("%s: excess %v at the centre, analysis %v", name, got, want)
		}
	}
	truss, err := Read("two.json", []byte(twoBars))
	if err != nil {
		t.Fatal(err)
	}
	truss.Groups = [][]int{{0}, {1}}
	truss.Tension = 50 // so that displacement governs
	f, a := forecastOf(t, truss, []int{0, 3})
	for _, p := range [][]int{{0, 3}, {3, 0}, {2, 1}, {3, 3}} {
		want := truth(t, a, truss, p)
		if got := f.Excess(p, math.Inf(1)); math.Abs(got-want) > 1e-9 {
			t.Errorf("determinate, %v: excess %v, analysis %v", p, got, want)
		}
	}
}

// Errors of what is forecast by virtual work are of fourth order, so that halving the way from the centre divides them by
// about sixteen. The base from which points are looked at must not matter, and a look cut short must still tell that the
// excess is too great.
func TestForecastErrorIsOfFourthOrder(t *testing.T) {
	truss, _ := shipped(t, "ten-bar.json")
	rng := rand.New(rand.NewPCG(9, 10))
	var ratios []float64
	for range 40 {
		centre := make([]float64, len(truss.Groups))
		way := make([]float64, len(centre))
		for g := range centre {
			centre[g], way[g] = 1+20*rng.Float64(), 0.4*(rng.Float64()-0.5)
		}
		// A list of areas that holds, for every group, the centre and two places on the way.
		fine := *truss
		fine.Areas = nil
		for g := range centre {
			fine.Areas = append(fine.Areas, centre[g], centre[g]*math.Exp(way[g]/2), centre[g]*math.Exp(way[g]))
		}
		at := func(k int) (p []int) {
			for g := range centre {
				p = append(p, 3*g+k)
			}
			return p
		}
		f, a := forecastOf(t, &fine, at(0))
		var miss [3]float64
		for k := range miss {
			got := f.Excess(at(k), math.Inf(1))
			miss[k] = math.Abs(got - truth(t, a, &fine, at(k)))
			if cut := f.Excess(at(k), -0.9); cut <= -0.9 && got > -0.9 || cut > got+1e-12 {
				t.Errorf("excess %v, cut short %v", got, cut)
			}
		}
		before := f.Excess(at(1), math.Inf(1))
		f.At(at(2))
		if after := f.Excess(at(1), math.Inf(1)); math.Abs(after-before) > 1e-9 {
			t.Errorf("excess %v from one base, %v from another", before, after)
		}
		if miss[1] > 1e-9 {
			ratios = append(ratios, miss[2]/miss[1])
		}
	}
	slices.Sort(ratios)
	if median := ratios[len(ratios)/2]; median < 12 || median > 20 {
		t.Errorf("twice the way, %.2f times the error", median)
	}
}
