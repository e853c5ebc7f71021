package frame

import (
	"math"
	"math/rand/v2"
	"reflect"
	"testing"
)

// TestVectorLanes: the vector versions of the lane kernels have the bits of the Go versions, for numbers that are given and for
// some that are not.
func TestVectorLanes(t *testing.T) {
	if !vectors {
		t.Log("this processor has no 4-wide vectors: the Go versions are in use")
		return
	}
	rng := rand.New(rand.NewPCG(5, 6))
	kernels := map[string]any{"weigh": weigh, "weighPlain": weighPlain, "settleLanes": settleLanes, "beamIn": beamIn, "planeEven": planeEven, "planeVary": planeVary,
		"planeEvenLoose": planeEvenLoose, "planeVaryLoose": planeVaryLoose, "beamOut": beamOut, "beamHold": beamHold,
		"beamVary": beamVary, "beamEven": beamEven, "beamVaryLoose": beamVaryLoose, "beamEvenLoose": beamEvenLoose, "beamPinned": beamPinned,
		"planePinned": planePinned, "stiffPinned": stiffPinned, "roughLine": roughLine, "roughEnd": roughEnd, "barLanes": barLanes, "armsIn": armsIn, "armsOut": armsOut,
		"stiffEven": stiffEven, "stiffEvenLoose": stiffEvenLoose,
		"stiffVary": stiffVary, "stiffVaryLoose": stiffVaryLoose,
		"spreadBeam": spreadBeam, "spreadBar": spreadBar, "spreadArms": spreadArms, "roughLoad": roughLoad, "roughExtent": roughExtent}
	if n := len(lanePrograms()); n != len(kernels) {
		t.Fatalf("%d kernels are tested of %d", len(kernels), n)
	}
	for name, k := range kernels {
		f := reflect.ValueOf(k)
		for round := range 50 {
			var a, b []reflect.Value
			for i := range f.Type().NumIn() {
				x, y := randomArgument(rng, f.Type().In(i), round)
				a, b = append(a, x), append(b, y)
			}
			f.Call(a)
			vectors = false
			f.Call(b)
			vectors = true
			for i := range a {
				if !sameBits(a[i], b[i]) {
					t.Fatalf("%s, round %d: argument %d differs", name, round, i)
				}
			}
		}
	}
}

// randomArgument makes an argument of a kernel twice.
func randomArgument(rng *rand.Rand, kind reflect.Type, round int) (x, y reflect.Value) {
	const long = 80
	if kind == reflect.TypeFor[[]float64]() {
		v := make([]float64, long)
		for i := range v {
			v[i] = 2*rng.Float64() - 1
		}
		return reflect.ValueOf(v), reflect.ValueOf(append([]float64(nil), v...))
	}
	v := make([]row8, long)
	for i := range v {
		for l := range v[i] {
			v[i][l] = 2*rng.Float64() - 1
			if round%10 == 9 && rng.IntN(200) == 0 {
				v[i][l] = math.NaN()
			}
		}
	}
	return reflect.ValueOf(v), reflect.ValueOf(append([]row8(nil), v...))
}

func sameBits(x, y reflect.Value) bool {
	if a, ok := x.Interface().([]float64); ok {
		return reflect.DeepEqual(a, y.Interface())
	}
	a, b := x.Interface().([]row8), y.Interface().([]row8)
	for i := range a {
		for l := range a[i] {
			if a[i][l] != b[i][l] && !(math.IsNaN(a[i][l]) && math.IsNaN(b[i][l])) {
				return false
			}
		}
	}
	return true
}

// TestVectorRows: likewise for the kernels over many rows.
func TestVectorRows(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	for range 50 {
		n, m := rng.IntN(20), rng.IntN(9)
		rows := func(n int) []row8 {
			x, _ := randomArgument(rng, reflect.TypeFor[[]row8](), 0)
			return x.Interface().([]row8)[:n]
		}
		x, y, z := rows(n), rows(m), rows(n)
		a := make([]float64, n*m)
		for i := range a {
			a[i] = rng.Float64()
		}
		other := append([]row8(nil), x...)
		var d, e, s row8
		s = z0(z)
		var at []int32
		for k := range int32(m) {
			if rng.IntN(2) > 0 {
				at = append(at, k)
			}
		}
		addPicked(x, a, y, at)
		addPickedGo(other, a, y, at)
		picked, same := rows(n), rows(n)
		pickRows(picked, a, y, at)
		pickRowsGo(same, a, y, at)
		if !sameBits(reflect.ValueOf(picked), reflect.ValueOf(same)) {
			t.Fatalf("%d rows by %d, of which %v: differ", n, m, at)
		}
		addRows(x, &s, z)
		addRowsGo(other, &s, z)
		dotRows(&d, x, z)
		dotRowsGo(&e, other, z)
		if !sameBits(reflect.ValueOf(x), reflect.ValueOf(other)) || d != e {
			t.Fatalf("%d rows by %d differ", n, m)
		}
		subRows(x, x, z)
		subRowsGo(other, other, z)
		if !sameBits(reflect.ValueOf(x), reflect.ValueOf(other)) || peakRows(x) != peakRowsGo(x) {
			t.Fatalf("%d rows differ", n)
		}
		dof := make([]int32, n)
		for i := range dof {
			dof[i] = int32(i) - int32(2*i*rng.IntN(2))
		}
		b, c := append([]row8(nil), x...), append([]row8(nil), x...)
		worst, total := balanceRows(b, x, z, dof)
		if w, s := balanceRowsGo(c, x, z, dof); w != worst || s != total || !sameBits(reflect.ValueOf(b), reflect.ValueOf(c)) {
			t.Fatalf("%d rows in balance differ", n)
		}
		far, near := make([]float64, len(a)), make([]float64, len(a))
		addTimes(far, rng.Float64(), a)
		copy(near, far)
		addTimes(far, 0.3, a)
		addTimesGo(near, 0.3, a)
		if !reflect.DeepEqual(far, near) {
			t.Fatalf("%d numbers added: differ", len(a))
		}
		step := 1 + rng.IntN(2)
		var lists, want [lanes][]float64
		for l := range lanes {
			lists[l], want[l] = make([]float64, n/step), make([]float64, n/step)
		}
		spreadRows(&lists, x, step)
		spreadRowsGo(&want, x, step)
		if !reflect.DeepEqual(lists, want) {
			t.Fatalf("%d rows, every %d: spread differently", n, step)
		}
	}
}

// TestPlaces holds the vector code for forces at places to the Go code, whose list of rows says what goes where.
func TestPlaces(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 10))
	basis, f := make([]float64, 20*basisNumbers), make([]row8, 3*20)
	for i := range basis {
		basis[i] = rng.Float64() - 0.5
	}
	for i := range f {
		for l := range lanes {
			f[i][l] = rng.Float64() - 0.5
		}
	}
	for n := range 12 {
		places := make([]int32, n)
		for i := range places {
			places[i] = int32(rng.IntN(20))
		}
		got, want := make([]row8, sumRows), make([]row8, sumRows)
		for i := range got {
			got[i][i%lanes], want[i][i%lanes] = 1/float64(1+i), 1/float64(1+i)
		}
		weighPlaces(basis, places, f, got)
		weighPlacesGo(basis, places, f, want)
		if !reflect.DeepEqual(got, want) {
			t.Errorf("%d places: sums differ", n)
		}
	}
}

// z0 is the first row, if there is one.
func z0(z []row8) (s row8) {
	if len(z) > 0 {
		s = z[0]
	}
	return s
}
