package asnzs4600

import (
	"fmt"
	"math"

	"leanbay/solver/checks"
)

// Compression is a column by the direct strength method: nominal loads in N.
type Compression struct {
	Nce, Ncl, Ncd float64 // global, local interacting with global, distortional
	Nc            float64 // the least
}

// Column returns the nominal capacity of 7.2.1 from the yield load and the elastic local, distortional and global
// buckling loads (N; +Inf where there is none such). With noc = +Inf it is the section capacity.
func (c *Code) Column(ny, nol, nod, noc float64, w *checks.Working) Compression {
	var r Compression
	lc := math.Sqrt(ny / noc)
	if lc <= c.at(columnLimit) {
		r.Nce = math.Pow(c.at(columnBase), lc*lc) * ny
	} else {
		r.Nce = c.at(columnElastic) / (lc * lc) * ny
	}
	r.Ncl = c.local(r.Nce, nol)
	r.Ncd = reduced(ny, nod, c.at(distortColumnLimit), c.at(distortColumnFactor), c.at(distortColumnPower))
	r.Nc = min(r.Nce, r.Ncl, r.Ncd)
	if w != nil {
		kn := checks.KN
		w.Add(c.step(columnLimit, "lambda_c", "sqrt(Ny/Noc)", fmt.Sprintf("sqrt(%s/%s)", figure(kn(ny)), figure(kn(noc))), lc, "-"))
		w.Add(c.step(columnBase, "Nce", "0.658^(lambda_c^2) Ny, or 0.877 Ny/lambda_c^2 above 1.5", "", kn(r.Nce), "kN"))
		w.Add(c.step(localLimit, "Ncl", "[1 - 0.15 (Nol/Nce)^0.4] (Nol/Nce)^0.4 Nce, lambda_l > 0.776",
			fmt.Sprintf("Nol %s kN, lambda_l %s", figure(kn(nol)), figure(math.Sqrt(r.Nce/nol))), kn(r.Ncl), "kN"))
		w.Add(c.step(distortColumnLimit, "Ncd", "[1 - 0.25 (Nod/Ny)^0.6] (Nod/Ny)^0.6 Ny, lambda_d > 0.561",
			fmt.Sprintf("Nod %s kN, lambda_d %s", figure(kn(nod)), figure(math.Sqrt(ny/nod))), kn(r.Ncd), "kN"))
		w.Add(c.step(columnLimit, "Nc", "min(Nce, Ncl, Ncd)", "", kn(r.Nc), "kN"))
	}
	return r
}

// Flexure is a beam by the direct strength method: nominal moments in N·m.
type Flexure struct {
	Mbe, Mbl, Mbd float64
	Mb            float64
}

// Beam returns the nominal capacity of 7.2.2 from the moment at first yield and the elastic local, distortional and
// lateral buckling moments (N·m; +Inf where there is none such). With mo = +Inf it is the section capacity.
func (c *Code) Beam(my, mol, mod, mo float64, w *checks.Working) Flexure {
	var r Flexure
	switch lo, hi := c.at(lateralElastic), c.at(lateralFull); {
	case mo < lo*my:
		r.Mbe = mo
	case mo <= hi*my:
		r.Mbe = 10.0 / 9 * my * (1 - 10*my/(36*mo))
	default:
		r.Mbe = my
	}
	r.Mbl = c.local(r.Mbe, mol)
	r.Mbd = reduced(my, mod, c.at(distortBeamLimit), c.at(distortBeamFactor), c.at(distortBeamPower))
	r.Mb = min(r.Mbe, r.Mbl, r.Mbd)
	if w != nil {
		m := checks.KNm
		w.Add(c.step(lateralElastic, "Mbe", "Mo < 0.56 My: Mo; to 2.78 My: (10/9) My (1 - 10 My/(36 Mo)); above: My",
			fmt.Sprintf("My %s, Mo %s kN·m", figure(m(my)), figure(m(mo))), m(r.Mbe), "kN·m"))
		w.Add(c.step(localLimit, "Mbl", "[1 - 0.15 (Mol/Mbe)^0.4] (Mol/Mbe)^0.4 Mbe, lambda_l > 0.776",
			fmt.Sprintf("Mol %s kN·m, lambda_l %s", figure(m(mol)), figure(math.Sqrt(r.Mbe/mol))), m(r.Mbl), "kN·m"))
		w.Add(c.step(distortBeamLimit, "Mbd", "[1 - 0.22 (Mod/My)^0.5] (Mod/My)^0.5 My, lambda_d > 0.673",
			fmt.Sprintf("Mod %s kN·m, lambda_d %s", figure(m(mod)), figure(math.Sqrt(my/mod))), m(r.Mbd), "kN·m"))
		w.Add(c.step(lateralElastic, "Mb", "min(Mbe, Mbl, Mbd)", "", m(r.Mb), "kN·m"))
	}
	return r
}

// local is the local curve, interacting with the global capacity.
func (c *Code) local(global, elastic float64) float64 {
	return reduced(global, elastic, c.at(localLimit), c.at(localFactor), c.at(localPower))
}

// reduced is the direct strength form [1 - f (e/y)^p] (e/y)^p y above the limit of slenderness sqrt(y/e), else y.
func reduced(y, elastic, limit, f, p float64) float64 {
	if !(math.Sqrt(y/elastic) > limit) {
		return y
	}
	r := math.Pow(elastic/y, p)
	return (1 - f*r) * r * y
}

// Tension is the nominal capacity (N) of 3.2: yield of the gross area or fracture of the net, which is taken as gross,
// with the distribution factor kt.
func (c *Code) Tension(a, fy, fu, kt float64, w *checks.Working) float64 {
	nt := math.Min(a*fy, c.at(tensionFracture)*kt*a*fu)
	if w != nil {
		w.Add(c.step(tensionFracture, "Nt", "min(Ag fy, 0.85 kt An fu)",
			fmt.Sprintf("min(%s x %s, 0.85 x %g x %s x %s)", figure(checks.MM2(a)), figure(checks.MPa(fy)), kt, figure(checks.MM2(a)), figure(checks.MPa(fu))),
			checks.KN(nt), "kN"))
	}
	return nt
}

// Shear is the nominal capacity (N) of an unstiffened web, 7.2.3: d1 its flat depth, tw its thickness (m).
func (c *Code) Shear(d1, tw, fy float64, w *checks.Working) float64 {
	vy := c.at(shearYield) * fy * d1 * tw
	vcr := c.at(shearBuckling) * math.Pi * math.Pi * c.at(ModulusE) * d1 * tw / (12 * (1 - 0.3*0.3) * (d1 / tw) * (d1 / tw))
	lv := math.Sqrt(vy / vcr)
	vv := vcr
	switch {
	case lv <= c.at(shearFirst):
		vv = vy
	case lv <= c.at(shearSecond):
		vv = c.at(shearFirst) * math.Sqrt(vcr*vy)
	}
	if w != nil {
		kn := checks.KN
		w.Add(c.step(shearYield, "Vy", "0.6 fy d1 tw", fmt.Sprintf("0.6 x %s x %s x %s", figure(checks.MPa(fy)), figure(checks.MM(d1)), figure(checks.MM(tw))), kn(vy), "kN"))
		w.Add(c.step(shearBuckling, "Vcr", "kv pi^2 E d1 tw/(12 (1 - nu^2)(d1/tw)^2)", "", kn(vcr), "kN"))
		w.Add(c.step(shearFirst, "lambda_v", "sqrt(Vy/Vcr)", "", lv, "-"))
		w.Add(c.step(shearSecond, "Vv", "Vy to 0.815; 0.815 sqrt(Vcr Vy) to 1.227; Vcr above", "", kn(vv), "kN"))
	}
	return vv
}

// figure prints four digits.
func figure(v float64) string { return checks.Figure(v) }
