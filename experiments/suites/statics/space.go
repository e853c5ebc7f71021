package statics

// spaceCases are frames in space whose answers can be written by hand: bent cantilevers, a grid, a balcony bow.
func spaceCases() []Case {
	const p = 12e3
	s := closedSection
	eiy, eiz, gj, ea := s.eiy(), s.eiz(), s.G*s.J, s.E*s.A
	return []Case{
		{"space/bent cantilever", func() (*form, []Figure) {
			// In plan an L: a along X, then b along Y; loaded down at the tip.
			const a, b = 3.0, 2.0
			f := newForm()
			f.at(0, 0, 0)
			f.at(a, 0, 0)
			f.at(a, b, 0)
			f.hold(1, "all")
			f.beam("m1", 1, 2, s, vec{0, 0, 1})
			f.beam("m2", 2, 3, s, vec{0, 0, 1})
			f.load("a", "linear").force(3, 0, 0, -p)
			src := closed("virtual work: bending of both legs and twist of the first")
			return f, []Figure{src.disp("a", 3, "uz", -(p*a*a*a/(3*eiz) + p*b*b*b/(3*eiz) + p*b*b*a/gj)), src.disp("a", 2, "rx", -p*b*a/gj),
				src.end("a", "m1", "j", "T", -p*b), src.react("a", 1, "mx", p*b), src.react("a", 1, "my", -p*a)}
		}},
		{"space/twice bent cantilever", func() (*form, []Figure) {
			// A post along Z, an arm along X, a finger along Y; pushed along X at its tip.
			const h, a, b = 4.0, 1.5, 1.0
			f := newForm()
			f.at(0, 0, 0)
			f.at(0, 0, h)
			f.at(a, 0, h)
			f.at(a, b, h)
			f.hold(1, "all")
			f.beam("post", 1, 2, s, vec{0, 1, 0}) // z along -X: Iy bends along X
			f.beam("arm", 2, 3, s, vec{0, 0, 1})  // z along -Y: Iy bends along Y
			f.beam("finger", 3, 4, s, vec{0, 0, 1})
			f.load("a", "linear").force(4, p, 0, 0)
			// Work of the tip load: post bends (M = p·z) and twists (p·b), arm stretches and bends about Z by p·b, finger bends about Z.
			ux := p*h*h*h/(3*eiy) + p*b*b*h/gj + p*a/ea + p*b*b*a/eiy + p*b*b*b/(3*eiy)
			// A unit load along Y at the tip twists the post by a, bends the arm about Z by (a - x): both against p·b.
			uy := -(p*b*a*h/gj + p*b*a*a/(2*eiy))
			src := closed("virtual work over the three parts")
			return f, []Figure{src.disp("a", 4, "ux", ux), src.disp("a", 4, "uy", uy), src.end("a", "post", "i", "T", p*b), src.react("a", 1, "my", -p*h)}
		}},
		{"grid/two crossing beams", func() (*form, []Figure) {
			const a, b = 6.0, 4.0 // spans along X and Y, crossing in their middles
			f := newForm()
			f.at(-a/2, 0, 0)
			f.at(a/2, 0, 0)
			f.at(0, -b/2, 0)
			f.at(0, b/2, 0)
			f.at(0, 0, 0)
			for n := 1; n <= 4; n++ {
				f.hold(n, "uz")
			}
			f.hold(1, "ux uy rx")
			f.hold(2, "rx")
			f.hold(3, "ry")
			f.hold(4, "ux ry")
			f.beam("x1", 1, 5, s, vec{0, 0, 1})
			f.beam("x2", 5, 2, s, vec{0, 0, 1})
			f.beam("y1", 3, 5, s, vec{0, 0, 1})
			f.beam("y2", 5, 4, s, vec{0, 0, 1})
			f.load("a", "linear").force(5, 0, 0, -p)
			ka, kb := 48*eiz/(a*a*a), 48*eiz/(b*b*b)
			src := closed("simple beams share the load by their stiffness")
			return f, []Figure{src.disp("a", 5, "uz", -p/(ka+kb)), src.react("a", 1, "fz", p*ka/(ka+kb)/2), src.react("a", 3, "fz", p*kb/(ka+kb)/2)}
		}},
		{"grid/balcony bow", func() (*form, []Figure) {
			// Two arms of a stand out from the wall, a front beam of 2b joins them; loaded down in the middle of the front.
			const a, b = 2.0, 1.5
			f := newForm()
			f.at(0, -b, 0)
			f.at(a, -b, 0)
			f.at(a, 0, 0)
			f.at(a, b, 0)
			f.at(0, b, 0)
			f.hold(1, "all")
			f.hold(5, "all")
			f.beam("arm1", 1, 2, s, vec{0, 0, 1})
			f.beam("front1", 2, 3, s, vec{0, 0, 1})
			f.beam("front2", 3, 4, s, vec{0, 0, 1})
			f.beam("arm2", 5, 4, s, vec{0, 0, 1})
			f.load("a", "linear").force(3, 0, 0, -p)
			// Middle moment X (sagging): front turns (Xb - Pb²/4)/EI at the corner, the arm twists by (Pb/2 - X)a/GJ: the same.
			x := (p*b*b/(4*eiz) + p*b*a/(2*gj)) / (b/eiz + a/gj)
			sag := p/2*a*a*a/(3*eiz) + (x*b*b/2-p*b*b*b/12)/eiz
			src := closed("symmetry: level in the middle of the front, one redundant moment")
			return f, []Figure{src.end("a", "front1", "j", "Mz", x), src.disp("a", 3, "uz", -sag), src.react("a", 1, "mx", p*b/2-x), src.react("a", 5, "my", -p/2*a)}
		}},
		{"space/portal pushed square to its plane", func() (*form, []Figure) {
			// Two fixed posts joined by a beam, pushed along Y at both heads: posts bend alone, the beam goes along without force.
			const h, l = 4.0, 6.0
			f := newForm()
			f.at(0, 0, 0)
			f.at(0, 0, h)
			f.at(l, 0, h)
			f.at(l, 0, 0)
			f.hold(1, "all")
			f.hold(4, "all")
			f.beam("p1", 1, 2, s, vec{-1, 0, 0}) // z along -Y: Iy bends along Y
			f.beam("b", 2, 3, s, vec{0, 0, 1})
			f.beam("p2", 4, 3, s, vec{-1, 0, 0})
			f.load("a", "linear").force(2, 0, p, 0).force(3, 0, p, 0)
			f.load("b", "linear").force(2, 0, p, 0).force(3, 0, -p, 0)
			src := closed("posts as cantilevers; opposed pushes also bend the beam in plan and twist the posts")
			kpp, kpr, krr := 12*eiy/(h*h*h), 6*eiy/(h*h), 4*eiy/h
			v := opposedHeads(p, kpp, kpr, krr, gj/h, gj, eiy, l)
			return f, []Figure{src.disp("a", 2, "uy", p*h*h*h/(3*eiy)), src.end("a", "p1", "i", "Vz", p), src.disp("b", 2, "uy", v), src.disp("b", 3, "uy", -v)}
		}},
	}
}

// opposedHeads returns the deflection of two post heads pushed apart by p each way: unknowns are the head's move v along
// Y, its turn r about X and its turn t about Z. The post gives 12EI/h³, 6EI/h², 4EI/h (moving +Y and turning about -X go
// together) and its twist; the beam of length l between antisymmetric heads bends in plan (12EI/l³·2v, 6EI/l) and twists.
func opposedHeads(p, kpp, kpr, krr, twist, gj, ei, l float64) float64 {
	// Beam in plan, ends 2 (v, t) and 3 (-v, t): end force 12EI/l³·2v + 6EI/l²·2t, end moment 6EI/l²·2v + 6EI/l·t.
	k := [3][3]float64{
		{kpp + 24*ei/(l*l*l), kpr, 12 * ei / (l * l)},
		{kpr, krr + 2*gj/l, 0},
		{12 * ei / (l * l), 0, twist + 6*ei/l},
	}
	return solve3(k, [3]float64{p, 0, 0})[0]
}
