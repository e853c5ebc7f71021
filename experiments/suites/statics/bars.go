package statics

import "math"

// barCases are pin-jointed trusses, plane and in space, and bars that act one way in a single way of loading.
func barCases() []Case {
	const p, a = 60e3, 8e-4
	ea := steelE * a
	return []Case{
		{"truss/bracket of two bars", func() (*form, []Figure) {
			// A horizontal bar of 3 m and one that rises 4 m over 3 m meet at a loaded joint.
			f := newForm()
			f.at(0, 0, 0)
			f.at(0, 0, 4)
			f.at(3, 0, 0)
			f.hold(1, "pin")
			f.hold(2, "pin")
			f.hold(3, "uy")
			f.rod("strut", 1, 3, steelE, a)
			f.rod("tie", 2, 3, steelE, a)
			f.load("a", "linear").force(3, 0, 0, -p)
			tie, strut := p/0.8, -p*0.75
			src := closed("statics; deflections by virtual work")
			return f, []Figure{src.end("a", "tie", "j", "N", tie), src.end("a", "strut", "i", "N", -strut), src.disp("a", 3, "ux", strut*3/ea),
				src.disp("a", 3, "uz", -(tie*5/ea*1.25 + -strut*3/ea*0.75))}
		}},
		{"truss/three bars", func() (*form, []Figure) {
			// One bar hangs plumb, two at 45 degrees: once redundant.
			const h = 2.0
			f := newForm()
			for i := range 3 {
				f.hold(f.at(float64(i-1)*h, 0, h), "pin")
			}
			f.hold(f.at(0, 0, 0), "uy")
			f.rod("left", 1, 4, steelE, a)
			f.rod("plumb", 2, 4, steelE, a)
			f.rod("right", 3, 4, steelE, a)
			f.load("a", "linear").force(4, 0, 0, -p)
			plumb := p / (1 + 2*math.Pow(math.Cos(math.Pi/4), 3))
			src := closed("Timoshenko, Strength of Materials I: three hung bars, N = P/(1+2cos³α)")
			return f, []Figure{src.end("a", "plumb", "j", "N", plumb), src.end("a", "left", "j", "N", plumb/2), src.disp("a", 4, "uz", -plumb*h/ea)}
		}},
		{"truss/square with both diagonals", func() (*form, []Figure) {
			// Sides of length s on two pins; pushed at one top corner. The redundant is one diagonal.
			const s = 3.0
			f := newForm()
			f.at(0, 0, 0)
			f.at(s, 0, 0)
			f.at(s, 0, s)
			f.at(0, 0, s)
			f.hold(1, "pin")
			f.hold(2, "pin")
			f.hold(3, "uy")
			f.hold(4, "uy")
			f.rod("left", 1, 4, steelE, a)
			f.rod("right", 2, 3, steelE, a)
			f.rod("top", 4, 3, steelE, a)
			f.rod("up", 1, 3, steelE, a)
			f.rod("down", 4, 2, steelE, a)
			f.load("a", "linear").force(4, p, 0, 0)
			// Unit tension X in "down" and the push: top N = -P - X/√2 (from joint 4), up = (P + X/√2)√2, right = -(P + X/√2), left = -X/√2.
			r := math.Sqrt2
			work := func(n, m [5]float64) (t float64) {
				for i, l := range [5]float64{s, s, s, s * r, s * r} {
					t += n[i] * m[i] * l
				}
				return t
			}
			n0 := [5]float64{0, -p, -p, p * r, 0} // left, right, top, up, down
			n1 := [5]float64{-1 / r, -1 / r, -1 / r, 1, 1}
			x := -work(n0, n1) / work(n1, n1)
			src := closed("force method with one diagonal as redundant")
			return f, []Figure{src.end("a", "down", "j", "N", x), src.end("a", "up", "j", "N", p*r+x), src.end("a", "top", "j", "N", -p-x/r)}
		}},
		{"truss/Pratt of six panels", func() (*form, []Figure) {
			return prattTruss(p, a)
		}},
		{"space truss/tripod", func() (*form, []Figure) {
			// Three legs of equal length, feet on a circle of radius r, head at height h, pushed sideways and down.
			const r, h, q = 2.0, 3.0, 20e3
			f := newForm()
			for i := range 3 {
				sin, cos := math.Sincos(2 * math.Pi * float64(i) / 3)
				f.hold(f.at(r*cos, r*sin, 0), "pin")
			}
			f.at(0, 0, h)
			f.rod("leg0", 1, 4, steelE, a)
			f.rod("leg1", 2, 4, steelE, a)
			f.rod("leg2", 3, 4, steelE, a)
			f.load("a", "linear").force(4, 0, 0, -p)
			f.load("b", "linear").force(4, q, 0, 0)
			l := math.Hypot(r, h)
			// Stiffness of three legs at the head: vertical 3EA/l·h²/l², horizontal 3/2·EA/l·r²/l² whatever the direction.
			kv, kh := 3*ea/l*h*h/(l*l), 1.5*ea/l*r*r/(l*l)
			src := closed("symmetry: stiffness of three legs at 120 degrees")
			return f, []Figure{src.disp("a", 4, "uz", -p/kv), src.end("a", "leg0", "j", "N", -p*l/(3*h)), src.disp("b", 4, "ux", q/kh),
				src.end("b", "leg0", "j", "N", -q*2/3*l/r), src.end("b", "leg1", "j", "N", q/3*l/r)}
		}},
		{"space truss/mast on four stays", func() (*form, []Figure) {
			const r, h, q, am = 3.0, 6.0, 15e3, 3e-3
			f := newForm()
			f.hold(f.at(0, 0, 0), "pin")
			f.at(0, 0, h)
			for i := range 4 {
				sin, cos := math.Sincos(math.Pi / 2 * float64(i))
				f.hold(f.at(r*cos, r*sin, 0), "pin")
			}
			f.rod("mast", 1, 2, steelE, am)
			for i, id := range []string{"east", "north", "west", "south"} {
				f.rod(id, 3+i, 2, steelE, a)
			}
			f.load("a", "linear").force(2, q, 0, 0)
			f.load("b", "linear").force(2, 0, 0, -p)
			l := math.Hypot(r, h)
			kh := 2 * ea / l * r * r / (l * l)
			kv := 4*ea/l*h*h/(l*l) + steelE*am/h
			src := closed("stiffness of pairs of stays and the mast")
			return f, []Figure{src.disp("a", 2, "ux", q/kh), src.end("a", "east", "j", "N", -q/2*l/r), src.end("a", "north", "j", "N", 0).upTo(1e-3),
				src.disp("b", 2, "uz", -p/kv), src.end("b", "mast", "j", "N", -p/kv*steelE*am/h)}
		}},
	}
}

// prattTruss is a simple truss of six panels; bar forces by sections, the middle deflection by virtual work.
func prattTruss(p, a float64) (*form, []Figure) {
	const d, h = 2.0, 2.5 // panel and height
	f := newForm()
	for i := range 7 { // bottom chord: nodes 1..7
		f.at(float64(i)*d, 0, 0)
	}
	for i := range 5 { // top chord: nodes 8..12 over 2..6
		f.at(float64(i+1)*d, 0, h)
	}
	for i := range f.Nodes {
		f.hold(i+1, "uy")
	}
	f.hold(1, "pin")
	f.hold(7, "uz")
	s := math.Hypot(d, h)
	type bar struct {
		id   string
		i, j int
		// force by sections under p at every inner bottom joint, and under a unit load in the middle; tension positive
		n, m float64
	}
	// Moments over panel points under p each: reaction 2.5p. M1 = 2.5pd, M2 = 4pd, M3 = 4.5pd. Unit load in the middle: d/2, d, 1.5d.
	chord := []float64{2.5 * p * d / h, 4 * p * d / h, 4.5 * p * d / h}
	unit := []float64{0.5 * d / h, d / h, 1.5 * d / h}
	half := func(k string, mirror func(int) int) []bar {
		return []bar{
			{"bottom1" + k, mirror(1), mirror(2), chord[0], unit[0]},
			{"bottom2" + k, mirror(2), mirror(3), chord[0], unit[0]},
			{"bottom3" + k, mirror(3), mirror(4), chord[1], unit[1]},
			{"top1" + k, mirror(8), mirror(9), -chord[1], -unit[1]},
			{"top2" + k, mirror(9), mirror(10), -chord[2], -unit[2]},
			{"end" + k, mirror(1), mirror(8), -2.5 * p * s / h, -0.5 * s / h},
			{"diagonal1" + k, mirror(8), mirror(3), 1.5 * p * s / h, 0.5 * s / h},
			{"diagonal2" + k, mirror(9), mirror(4), 0.5 * p * s / h, 0.5 * s / h},
			{"hanger" + k, mirror(2), mirror(8), p, 0},
			{"post" + k, mirror(3), mirror(9), -0.5 * p, -0.5},
		}
	}
	bars := append(half("L", func(n int) int { return n }), half("R", func(n int) int {
		if n >= 8 {
			return 20 - n
		}
		return 8 - n
	})...)
	bars = append(bars, bar{"middle", 4, 10, 0, 0})
	sag := 0.0
	for _, b := range bars {
		f.rod(b.id, b.i, b.j, steelE, a)
		l := math.Hypot(f.Nodes[b.i-1].X-f.Nodes[b.j-1].X, f.Nodes[b.i-1].Z-f.Nodes[b.j-1].Z)
		sag += b.n * b.m * l / (steelE * a)
	}
	c := f.load("a", "linear")
	for n := 2; n <= 6; n++ {
		c.force(n, 0, 0, -p)
	}
	src := closed("method of sections; deflection by virtual work")
	return f, []Figure{src.disp("a", 4, "uz", -sag), src.end("a", "top2L", "j", "N", -chord[2]), src.end("a", "diagonal1R", "j", "N", 1.5*p*s/h),
		src.end("a", "postL", "j", "N", -0.5*p), src.end("a", "middle", "j", "N", 0).upTo(1e-3)}
}
