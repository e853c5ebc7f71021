package frame

import (
	"fmt"
	"math"
	"strings"
)

// The lane kernels are straight-line programs over rows of eight numbers, one number a combination. Each is written once, in
// lanes_programs_test.go, and put out twice: for vector registers, and in Go for processors without them. Both do the same
// operations in the same order without fusing any, so that their bits agree.

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
)

// value is the index of an operation in its program.
type value int

type operation struct {
	code  opcode
	arg   int
	at    int
	c     float64
	a, b  value
	wants bool // somebody needs it
}

// program is a kernel under construction.
type program struct {
	name string
	doc  string
	args []string // rows; of two letters that begin with s: numbers
	ops  []operation
	seen map[operation]value
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

func (p *program) isScalar(arg int) bool { return len(p.args[arg]) == 2 && p.args[arg][0] == 's' }

// goText is the program in Go, lane by lane. What is used once is written where it is used.
func (p *program) goText() string {
	uses := make([]int, len(p.ops))
	for i := range p.ops {
		if p.ops[i].wants {
			for _, v := range p.ops[i].operands() {
				uses[v]++
			}
		}
	}
	text := make([]string, len(p.ops))
	var b strings.Builder
	fmt.Fprintf(&b, "func %sGo(%s) {\n\tfor l := range lanes {\n", p.name, p.params())
	for i := range p.ops {
		o := &p.ops[i]
		switch {
		case !o.wants:
		case o.code == opStore:
			fmt.Fprintf(&b, "\t\t%s[%d][l] = %s\n", p.args[o.arg], o.at, text[o.a])
		case uses[i] == 1 && len(text[o.a])+len(text[o.b]) < 90 || o.code == opConst || o.code == opScalar:
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
	case opMin:
		return fmt.Sprintf("lesser(%s, %s)", text[o.a], text[o.b])
	case opMax:
		return fmt.Sprintf("greater(%s, %s)", text[o.a], text[o.b])
	}
	return fmt.Sprintf("math.Abs(%s)", text[o.a])
}

// pointers are the registers of the arguments.
var pointers = []string{"AX", "BX", "DX", "SI", "DI", "R8", "R9", "R10", "R11"}

// allocation hands out the vector registers of one program: what is needed latest is put aside first, and leaves are read
// again instead.
type allocation struct {
	p      *program
	b      *strings.Builder
	uses   [][]int   // per value: the operations that use it, ascending
	in     [15]value // the last register is for masks
	slot   map[value]int
	consts *constants
}

// constants is the table of numbers that kernels share.
type constants struct {
	at   map[uint64]int
	list []float64
}

func (c *constants) place(v float64) int {
	b := math.Float64bits(v)
	if at, ok := c.at[b]; ok {
		return 8 * at
	}
	c.at[b] = len(c.list)
	c.list = append(c.list, v)
	return 8 * (len(c.list) - 1)
}

func (a *allocation) next(v value, now int) int {
	for _, u := range a.uses[v] {
		if u >= now {
			return u
		}
	}
	return math.MaxInt
}

// room frees a register at operation now, sparing those in keep.
func (a *allocation) room(now int, keep ...value) int {
	best, at := -1, -1
	for r, v := range a.in {
		if v < 0 {
			return r
		}
		spare := false
		for _, k := range keep {
			spare = spare || k == v
		}
		if spare {
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

// bring has value v in a register.
func (a *allocation) bring(v value, now int, keep ...value) int {
	for r, have := range a.in {
		if have == v {
			return r
		}
	}
	r := a.room(now, append(keep, v)...)
	o := &a.p.ops[v]
	switch {
	case o.code == opRow:
		fmt.Fprintf(a.b, "\tVMOVUPD %d(%s), Y%d\n", 64*o.at, pointers[o.arg], r)
	case o.code == opScalar:
		fmt.Fprintf(a.b, "\tVBROADCASTSD %d(%s), Y%d\n", 8*o.at, pointers[o.arg], r)
	case o.code == opConst:
		fmt.Fprintf(a.b, "\tVBROADCASTSD laneNumbers<>+%d(SB), Y%d\n", a.consts.place(o.c), r)
	default:
		fmt.Fprintf(a.b, "\tVMOVUPD %d(SP), Y%d\n", 32*a.slot[v], r)
	}
	a.in[r] = v
	return r
}

// release frees registers whose values nobody needs after now.
func (a *allocation) release(now int) {
	for r, v := range a.in {
		if v >= 0 && a.next(v, now+1) == math.MaxInt {
			a.in[r] = -1
		}
	}
}

var mnemonics = map[opcode]string{opAdd: "VADDPD", opSub: "VSUBPD", opMul: "VMULPD", opDiv: "VDIVPD", opMin: "VMINPD", opMax: "VMAXPD"}

// asmText is the program for 4-wide registers, run for both halves of the rows.
func (p *program) asmText(c *constants) string {
	var body strings.Builder
	a := &allocation{p: p, b: &body, uses: make([][]int, len(p.ops)), slot: map[value]int{}, consts: c}
	for r := range a.in {
		a.in[r] = -1
	}
	for i := range p.ops {
		if p.ops[i].wants {
			for _, v := range p.ops[i].operands() {
				a.uses[v] = append(a.uses[v], i)
			}
		}
	}
	for i := range p.ops {
		o := &p.ops[i]
		if !o.wants || o.leaf() {
			continue
		}
		switch o.code {
		case opStore:
			r := a.bring(o.a, i)
			fmt.Fprintf(&body, "\tVMOVUPD Y%d, %d(%s)\n", r, 64*o.at, pointers[o.arg])
			a.release(i)
		case opAbs:
			x := a.bring(o.a, i)
			a.release(i)
			r := a.room(i+1, o.a)
			fmt.Fprintf(&body, "\tVBROADCASTSD laneNumbers<>+%d(SB), Y%d\n", c.place(math.Float64frombits(math.MaxInt64)), 15)
			fmt.Fprintf(&body, "\tVANDPD Y15, Y%d, Y%d\n", x, r)
			a.in[r] = value(i)
		default:
			x := a.bring(o.a, i, o.b)
			y := a.bring(o.b, i, o.a)
			a.release(i)
			r := a.room(i+1, o.a, o.b)
			fmt.Fprintf(&body, "\t%s Y%d, Y%d, Y%d\n", mnemonics[o.code], y, x, r)
			a.in[r] = value(i)
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
