package frame

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// The lane kernels are straight-line programs over rows of eight numbers, one number a combination. Each is written once, in
// lanes_programs_test.go, and put out twice: for vector registers, and in Go for processors without them. Both do the same
// operations and fuse the same ones (see fuse), so that their bits agree; in what order, see ordered.

type opcode int

const (
	opRow    opcode = iota // row at of argument arg
	opScalar               // number at of argument arg, the same in all lanes
	opConst
	opAdd
	opSub
	opMul
	opDiv
	opMin // the second if either is not a number
	opMax
	opAbs
	opStore
	opFuse    // a·b + d, rounded once
	opFuseNeg // d - a·b
	opFuseSub // a·b - d
)

// value is the index of an operation in its program.
type value int

type operation struct {
	code  opcode
	arg   int
	at    int
	c     float64
	a, b  value
	d     value
	wants bool // somebody needs it
}

// program is a kernel under construction.
type program struct {
	name string
	doc  string
	args []string // rows; of two letters that begin with s: numbers
	ops  []operation
	seen map[operation]value
	of   int // the plane in hand
}

func newProgram(name, doc string, args ...string) *program {
	return &program{name: name, doc: doc, args: args, seen: map[operation]value{}}
}

func (p *program) put(o operation) value {
	if v, ok := p.seen[o]; ok && o.code != opStore {
		return v
	}
	p.ops = append(p.ops, o)
	v := value(len(p.ops) - 1)
	p.seen[o] = v
	return v
}

func (p *program) argument(name string) int {
	for i, a := range p.args {
		if a == name {
			return i
		}
	}
	panic("no argument " + name)
}

func (p *program) row(name string, at int) value {
	return p.put(operation{code: opRow, arg: p.argument(name), at: at})
}

func (p *program) scalar(name string, at int) value {
	return p.put(operation{code: opScalar, arg: p.argument(name), at: at})
}

func (p *program) num(c float64) value { return p.put(operation{code: opConst, c: c}) }

func (p *program) is(v value, c float64) bool { return p.ops[v].code == opConst && p.ops[v].c == c }

func (p *program) add(a, b value) value {
	switch {
	case p.is(a, 0):
		return b
	case p.is(b, 0):
		return a
	}
	return p.put(operation{code: opAdd, a: a, b: b})
}

func (p *program) sub(a, b value) value {
	if p.is(b, 0) {
		return a
	}
	return p.put(operation{code: opSub, a: a, b: b})
}

func (p *program) mul(a, b value) value {
	switch {
	case p.is(a, 0) || p.is(b, 1):
		return a
	case p.is(b, 0) || p.is(a, 1):
		return b
	}
	return p.put(operation{code: opMul, a: a, b: b})
}

func (p *program) div(a, b value) value { return p.put(operation{code: opDiv, a: a, b: b}) }
func (p *program) min(a, b value) value { return p.put(operation{code: opMin, a: a, b: b}) }
func (p *program) max(a, b value) value { return p.put(operation{code: opMax, a: a, b: b}) }
func (p *program) abs(a value) value    { return p.put(operation{code: opAbs, a: a}) }

// dot is the sum of products, in order.
func (p *program) dot(pairs ...value) value {
	s := p.num(0)
	for i := 0; i+1 < len(pairs); i += 2 {
		s = p.add(s, p.mul(pairs[i], pairs[i+1]))
	}
	return s
}

func (p *program) store(name string, at int, v value) {
	p.put(operation{code: opStore, arg: p.argument(name), at: at, a: v})
}

func (o *operation) operands() []value {
	switch o.code {
	case opAdd, opSub, opMul, opDiv, opMin, opMax:
		return []value{o.a, o.b}
	case opAbs, opStore:
		return []value{o.a}
	case opFuse, opFuseNeg, opFuseSub:
		return []value{o.a, o.b, o.d}
	}
	return nil
}

func (o *operation) leaf() bool { return o.code <= opConst }

// prune marks what the stores need.
func (p *program) prune() {
	for i := len(p.ops) - 1; i >= 0; i-- {
		o := &p.ops[i]
		if o.code == opStore {
			o.wants = true
		}
		if o.wants {
			for _, v := range o.operands() {
				p.ops[v].wants = true
			}
		}
	}
}

// fuse takes products that only one sum or difference needs into it: the processor then rounds once, and takes one step instead
// of two.
func (p *program) fuse() {
	uses := p.uses()
	for i := range p.ops {
		o := &p.ops[i]
		if !o.wants || o.code != opAdd && o.code != opSub {
			continue
		}
		single := func(v value) bool { return p.ops[v].code == opMul && len(uses[v]) == 1 }
		product, rest, code := o.b, o.a, map[opcode]opcode{opAdd: opFuse, opSub: opFuseNeg}[o.code]
		if !single(product) || o.code == opAdd && single(o.a) && o.a > o.b {
			product, rest = o.a, o.b
			if code = opFuse; o.code == opSub {
				code = opFuseSub
			}
		}
		if single(product) {
			m := &p.ops[product]
			m.wants = false
			o.code, o.a, o.b, o.d = code, m.a, m.b, rest
		}
	}
}

// uses lists by value the operations that use it, ascending, one as often as it does.
func (p *program) uses() [][]int {
	uses := make([][]int, len(p.ops))
	for i := range p.ops {
		if p.ops[i].wants {
			for _, v := range p.ops[i].operands() {
				uses[v] = append(uses[v], i)
			}
		}
	}
	return uses
}

func (p *program) isScalar(arg int) bool { return len(p.args[arg]) == 2 && p.args[arg][0] == 's' }

// goText is the program in Go, lane by lane. What is used once is written where it is used.
func (p *program) goText() string {
	uses := p.uses()
	text := make([]string, len(p.ops))
	var b strings.Builder
	fmt.Fprintf(&b, "func %sGo(%s) {\n\tfor l := range lanes {\n", p.name, p.params())
	for i := range p.ops {
		o := &p.ops[i]
		switch {
		case !o.wants:
		case o.code == opStore:
			fmt.Fprintf(&b, "\t\t%s[%d][l] = %s\n", p.args[o.arg], o.at, text[o.a])
		case len(uses[i]) == 1 && len(text[o.a])+len(text[o.b])+len(text[o.d]) < 90 || o.code == opConst || o.code == opScalar:
			text[i] = p.expression(o, text)
		default:
			fmt.Fprintf(&b, "\t\tv%d := %s\n", i, p.expression(o, text))
			text[i] = fmt.Sprintf("v%d", i)
		}
	}
	b.WriteString("\t}\n}\n")
	return b.String()
}

func (p *program) params() string {
	var params []string
	for i, a := range p.args {
		params = append(params, a+map[bool]string{true: " []float64", false: " []row8"}[p.isScalar(i)])
	}
	return strings.Join(params, ", ")
}

func (p *program) expression(o *operation, text []string) string {
	switch o.code {
	case opRow:
		return fmt.Sprintf("%s[%d][l]", p.args[o.arg], o.at)
	case opScalar:
		return fmt.Sprintf("%s[%d]", p.args[o.arg], o.at)
	case opConst:
		if o.c < 0 {
			return fmt.Sprintf("(%.17g)", o.c)
		}
		return fmt.Sprintf("%.17g", o.c)
	case opAdd:
		return fmt.Sprintf("(%s + %s)", text[o.a], text[o.b])
	case opSub:
		return fmt.Sprintf("(%s - %s)", text[o.a], text[o.b])
	case opMul:
		return fmt.Sprintf("float64(%s * %s)", text[o.a], text[o.b])
	case opDiv:
		return fmt.Sprintf("(%s / %s)", text[o.a], text[o.b])
	case opFuse:
		return fmt.Sprintf("math.FMA(%s, %s, %s)", text[o.a], text[o.b], text[o.d])
	case opFuseNeg:
		return fmt.Sprintf("math.FMA(-%s, %s, %s)", text[o.a], text[o.b], text[o.d])
	case opFuseSub:
		return fmt.Sprintf("math.FMA(%s, %s, -%s)", text[o.a], text[o.b], text[o.d])
	case opMin:
		return fmt.Sprintf("lesser(%s, %s)", text[o.a], text[o.b])
	case opMax:
		return fmt.Sprintf("greater(%s, %s)", text[o.a], text[o.b])
	}
	return fmt.Sprintf("math.Abs(%s)", text[o.a])
}

// pointers are the registers of the arguments.
var pointers = []string{"AX", "BX", "DX", "SI", "DI", "R8", "R9", "R10", "R11", "R12", "R13"}

// allocation hands out the vector registers of one program: what is needed latest is put aside first, and what lies in memory is
// read where it is used, unless it is used again soon.
type allocation struct {
	p      *program
	b      *strings.Builder
	uses   [][]int // per value: the operations that use it, ascending
	in     [16]value
	slot   map[value]int
	consts *constants
}

// constants is the table of numbers that kernels share, four times each.
type constants struct {
	at   map[uint64]int
	list []float64
}

func (c *constants) place(v float64) int {
	b := math.Float64bits(v)
	if at, ok := c.at[b]; ok {
		return 32 * at
	}
	c.at[b] = len(c.list)
	c.list = append(c.list, v)
	return 32 * (len(c.list) - 1)
}

func (a *allocation) next(v value, now int) int {
	for _, u := range a.uses[v] {
		if u >= now {
			return u
		}
	}
	return math.MaxInt
}

// dead tells whether nobody needs value v after operation now.
func (a *allocation) dead(v value, now int) bool { return a.next(v, now+1) == math.MaxInt }

// room frees a register at operation now, sparing those in keep.
func (a *allocation) room(now int, keep ...value) int {
	best, at := -1, -1
	for r, v := range a.in {
		if v < 0 {
			return r
		}
		if slices.Contains(keep, v) {
			continue
		}
		n := a.next(v, now)
		if a.p.ops[v].leaf() && n < math.MaxInt {
			n += 1 // of equals, what can be read again
		}
		if n > best {
			best, at = n, r
		}
	}
	v := a.in[at]
	if best < math.MaxInt && !a.p.ops[v].leaf() {
		if _, ok := a.slot[v]; !ok {
			a.slot[v] = len(a.slot)
			fmt.Fprintf(a.b, "\tVMOVUPD Y%d, %d(SP)\n", at, 32*a.slot[v])
		}
	}
	a.in[at] = -1
	return at
}

// register is that of value v, or -1.
func (a *allocation) register(v value) int { return slices.Index(a.in[:], v) }

// memory is where a value that is in no register lies, in full width; empty if nowhere.
func (a *allocation) memory(v value) string {
	switch o := &a.p.ops[v]; o.code {
	case opRow:
		return fmt.Sprintf("%d(%s)", 64*o.at, pointers[o.arg])
	case opConst:
		return fmt.Sprintf("laneNumbers<>+%d(SB)", a.consts.place(o.c))
	case opScalar:
		return ""
	}
	return fmt.Sprintf("%d(SP)", 32*a.slot[v])
}

// soon is within how many operations a value is used again, so that it is worth a register.
const soon = 6

// aside tells whether operation now may read value v from memory.
func (a *allocation) aside(v value, now int) bool {
	return a.register(v) < 0 && a.memory(v) != "" && a.next(v, now+1) > now+soon
}

// bring has value v in a register.
func (a *allocation) bring(v value, now int, keep ...value) int {
	if r := a.register(v); r >= 0 {
		return r
	}
	r := a.room(now, append(keep, v)...)
	if o := &a.p.ops[v]; o.code == opScalar {
		fmt.Fprintf(a.b, "\tVBROADCASTSD %d(%s), Y%d\n", 8*o.at, pointers[o.arg], r)
	} else {
		fmt.Fprintf(a.b, "\tVMOVUPD %s, Y%d\n", a.memory(v), r)
	}
	a.in[r] = v
	return r
}

// operand is value v as the operand that may lie in memory.
func (a *allocation) operand(v value, now int, keep ...value) string {
	if a.aside(v, now) {
		return a.memory(v)
	}
	return fmt.Sprintf("Y%d", a.bring(v, now, keep...))
}

// release frees registers whose values nobody needs after now.
func (a *allocation) release(now int) {
	for r, v := range a.in {
		if v >= 0 && a.dead(v, now) {
			a.in[r] = -1
		}
	}
}

var mnemonics = map[opcode]string{opAdd: "VADDPD", opSub: "VSUBPD", opMul: "VMULPD", opDiv: "VDIVPD", opMin: "VMINPD", opMax: "VMAXPD",
	opFuse: "VFMADD", opFuseNeg: "VFNMADD", opFuseSub: "VFMSUB"}

// fused puts out a fused operation. It takes the place of one of its operands: of d, or of a factor that nobody needs any longer.
func (a *allocation) fused(i int) {
	o := &a.p.ops[i]
	x, y := o.a, o.b
	if a.aside(x, i) && !a.aside(y, i) {
		x, y = y, x
	}
	if spent := a.register(x) >= 0 && a.dead(x, i) && x != y && x != o.d; spent && (a.aside(o.d, i) || !a.dead(o.d, i)) {
		ry := a.bring(y, i, x, o.d)
		d := a.operand(o.d, i, x, y)
		r := a.register(x)
		fmt.Fprintf(a.b, "\t%s213PD %s, Y%d, Y%d\n", mnemonics[o.code], d, ry, r)
		a.release(i)
		a.in[r] = value(i)
		return
	}
	rx := a.bring(x, i, y, o.d)
	rd := a.bring(o.d, i, x, y)
	from := a.operand(y, i, x, o.d)
	r := rd
	if !a.dead(o.d, i) || o.d == x || o.d == y {
		r = a.room(i, x, y, o.d)
		fmt.Fprintf(a.b, "\tVMOVAPD Y%d, Y%d\n", rd, r)
	}
	a.release(i)
	fmt.Fprintf(a.b, "\t%s231PD %s, Y%d, Y%d\n", mnemonics[o.code], from, rx, r)
	a.in[r] = value(i)
}

// plain puts out an operation of two operands.
func (a *allocation) plain(i int) {
	o := &a.p.ops[i]
	left, right := o.a, o.b
	if (o.code == opAdd || o.code == opMul) && a.aside(left, i) && !a.aside(right, i) {
		left, right = right, left
	}
	x := a.bring(left, i, right)
	y := a.operand(right, i, left)
	a.release(i)
	r := a.room(i+1, left, right)
	fmt.Fprintf(a.b, "\t%s %s, Y%d, Y%d\n", mnemonics[o.code], y, x, r)
	a.in[r] = value(i)
}

// asmText is the program for 4-wide registers, run for both halves of the rows.
func (p *program) asmText(c *constants) string {
	var body strings.Builder
	a := &allocation{p: p, b: &body, uses: p.uses(), slot: map[value]int{}, consts: c}
	for r := range a.in {
		a.in[r] = -1
	}
	for i := range p.ops {
		o := &p.ops[i]
		switch {
		case !o.wants || o.leaf():
		case o.code == opStore:
			r := a.bring(o.a, i)
			fmt.Fprintf(&body, "\tVMOVUPD Y%d, %d(%s)\n", r, 64*o.at, pointers[o.arg])
			a.release(i)
		case o.code == opAbs:
			x := a.bring(o.a, i)
			a.release(i)
			r := a.room(i+1, o.a)
			fmt.Fprintf(&body, "\tVANDPD laneNumbers<>+%d(SB), Y%d, Y%d\n", c.place(math.Float64frombits(math.MaxInt64)), x, r)
			a.in[r] = value(i)
		case o.code >= opFuse:
			a.fused(i)
		default:
			a.plain(i)
		}
	}
	return p.frame(body.String(), 32*len(a.slot))
}

// frame puts the entry and the loop around a body.
func (p *program) frame(body string, room int) string {
	var b strings.Builder
	fmt.Fprintf(&b, "// func %sAVX(%s *float64)\nTEXT ·%sAVX(SB), 0, $%d-%d\n", p.name, strings.Join(p.args, ", "), p.name, room, 8*len(p.args))
	for i, a := range p.args {
		fmt.Fprintf(&b, "\tMOVQ %s+%d(FP), %s\n", a, 8*i, pointers[i])
	}
	b.WriteString("\tMOVQ $2, CX\n\nhalf:\n")
	b.WriteString(body)
	for i := range p.args {
		if !p.isScalar(i) {
			fmt.Fprintf(&b, "\tADDQ $32, %s\n", pointers[i])
		}
	}
	b.WriteString("\tDECQ CX\n\tJNZ half\n\tVZEROUPPER\n\tRET\n")
	return b.String()
}
