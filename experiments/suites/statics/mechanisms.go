package statics

// mechanismCases ask whether structures stand, and which nodes move if not.
func mechanismCases() []Case {
	const l, h, p = 6.0, 4.0, 10e3
	s := openSection
	src := closed("kinematics: count of constraints, motion by inspection")
	return []Case{
		{"mechanism/pinned bay without bracing", func() (*form, []Figure) {
			f := portal(l, h, s, s, pinned)
			for i := range f.Members {
				f.Members[i].A = s.A
			}
			f.Members[1].ReleaseI, f.Members[1].ReleaseJ = []string{"Mz"}, []string{"Mz"}
			f.load("m", "mechanism")
			f.load("a", "linear").force(2, p, 0, 0)
			return f, []Figure{src.stands("m", false), src.moves("m", 2, "ux", true), src.moves("m", 3, "ux", true), src.moves("m", 2, "uz", false), src.stands("a", false)}
		}},
		{"mechanism/the same of members that hardly stretch", func() (*form, []Figure) {
			// Stiffnesses of very different size must not hide it.
			f := portal(l, h, s, s, pinned)
			f.Members[1].ReleaseI, f.Members[1].ReleaseJ = []string{"Mz"}, []string{"Mz"}
			f.load("m", "mechanism")
			f.load("a", "linear").force(2, p, 0, 0)
			return f, []Figure{src.stands("m", false), src.stands("a", false)}
		}},
		{"mechanism/the same with a rigid knee stands", func() (*form, []Figure) {
			f := portal(l, h, s, s, pinned)
			f.Members[1].ReleaseI = []string{"Mz"}
			f.load("m", "mechanism")
			f.load("a", "linear").force(2, p, 0, 0)
			return f, []Figure{src.stands("m", true), src.end("a", "right", "j", "Mz", p*h), src.end("a", "left", "j", "Mz", 0).upTo(1e-3)}
		}},
		{"mechanism/three hinges in a beam", func() (*form, []Figure) {
			f := newForm()
			f.at(0, 0, 0)
			f.at(l/2, 0, 0)
			f.at(l, 0, 0)
			f.planar()
			f.hold(1, pinned)
			f.hold(3, pinned)
			f.plane("a", 1, 2, s)
			f.plane("b", 2, 3, s).ReleaseI = []string{"Mz"}
			f.load("m", "mechanism")
			return f, []Figure{src.stands("m", false), src.moves("m", 2, "uz", true), src.moves("m", 2, "ux", false)}
		}},
		{"mechanism/beam on rollers", func() (*form, []Figure) {
			f := span(l, s, roller, roller)
			f.load("m", "mechanism")
			return f, []Figure{src.stands("m", false), src.moves("m", 1, "ux", true), src.moves("m", 2, "ux", true), src.moves("m", 2, "uz", false)}
		}},
		{"mechanism/spinning member", func() (*form, []Figure) {
			f := newForm()
			f.at(0, 0, 0)
			f.at(l, 0, 0)
			f.hold(1, "pin")
			f.hold(2, "uy uz")
			f.beam("m", 1, 2, s, vec{0, 0, 1})
			f.load("m", "mechanism")
			return f, []Figure{src.stands("m", false), src.moves("m", 1, "rx", true), src.moves("m", 2, "rx", true), src.moves("m", 2, "uy", false)}
		}},
		{"mechanism/releases let a member slide", func() (*form, []Figure) {
			f := span(l, s, fixedEnd, fixedEnd)
			f.Members[0].ReleaseI, f.Members[0].ReleaseJ = []string{"N"}, []string{"N"}
			f.load("m", "mechanism")
			return f, []Figure{src.stands("m", false)}
		}},
		{"mechanism/joint that nothing holds turns", func() (*form, []Figure) {
			// A moment on a node where only bars meet has nowhere to go.
			f := newForm()
			f.hold(f.at(0, 0, 0), "pin")
			f.hold(f.at(2, 0, 0), "pin")
			f.hold(f.at(1, 0, 1), "uy")
			f.rod("a", 1, 3, steelE, 1e-3)
			f.rod("b", 2, 3, steelE, 1e-3)
			f.load("force", "linear").force(3, 0, 0, -p)
			f.load("moment", "linear").moment(3, 0, p, 0)
			return f, []Figure{src.stands("force", true), src.stands("moment", false)}
		}},
		{"mechanism/shed without bracing along it", func() (*form, []Figure) {
			f, _ := smallShed(false)
			f.load("m", "mechanism")
			return f, []Figure{src.stands("m", false), src.moves("m", 2, "ux", true), src.moves("m", 7, "ux", true), src.moves("m", 2, "uy", false)}
		}},
		{"mechanism/shed braced in one wall is soft, not loose", func() (*form, []Figure) {
			f, _ := smallShed(true)
			f.load("m", "mechanism")
			f.load("g", "tension_only").force(2, 0, 0, -p).force(4, 0, 0, -p).force(7, 0, 0, -p).force(9, 0, 0, -p)
			return f, []Figure{src.stands("m", true), src.stands("g", true)}
		}},
		{"mechanism/truss panel without a diagonal", func() (*form, []Figure) {
			f := bay(l, h, 1e-3, 1e-4)
			f.Members = f.Members[:3]
			f.load("m", "mechanism")
			return f, []Figure{src.stands("m", false), src.moves("m", 2, "ux", true), src.moves("m", 3, "ux", true)}
		}},
	}
}

// smallShed is two pitched frames along X (span along Y) with pinned feet and pinned struts between eaves and ridge; with
// rods in one wall if braced. It returns the ids of the frames' first nodes.
func smallShed(braced bool) (*form, []int) {
	const spacing, l, h, rise = 6.0, 10.0, 4.0, 1.0
	f := newForm()
	first := []int{1, 6}
	for k := range 2 {
		x := float64(k) * spacing
		f.hold(f.at(x, 0, 0), "pin rz")
		f.at(x, 0, h)
		f.at(x, l/2, h+rise)
		f.at(x, l, h)
		f.hold(f.at(x, l, 0), "pin rz")
	}
	for k, n := range first {
		id := [2]string{"1", "2"}[k]
		f.beam("column A"+id, n, n+1, closedSection, vec{0, -1, 0})
		f.beam("rafter A"+id, n+1, n+2, closedSection, vec{0, -rise, l / 2})
		f.beam("rafter B"+id, n+3, n+2, closedSection, vec{0, rise, l / 2})
		f.beam("column B"+id, n+4, n+3, closedSection, vec{0, 1, 0})
	}
	for _, d := range []int{1, 2, 3} {
		m := f.beam([]string{"", "strut A", "strut ridge", "strut B"}[d], 1+d, 6+d, closedSection, vec{0, 0, 1})
		m.ReleaseI, m.ReleaseJ = []string{"My", "Mz"}, []string{"My", "Mz"}
	}
	if braced {
		f.tie("rod 1", 1, 7, steelE, 2.01e-4)
		f.tie("rod 2", 6, 2, steelE, 2.01e-4)
	}
	return f, first
}
