package shedspace

import (
	"encoding/binary"
	"slices"
	"sync"
	"sync/atomic"

	"leanbay/model/brief"
	"leanbay/model/shed"
)

// A search names, bounds and guesses some hundred times as many points as it evaluates, so that decoding one must be quick. The genes of
// the layout come first and know nothing of sections; what they come to is kept, as a plan. The genes of sections fall into kits that
// share no group: what the options of a kit come to is found once. Both are what the genes themselves say (apply, option, idle).

// decoder keeps what points come to.
type decoder struct {
	layout int // genes of the layout
	kits   []kit
	own    map[brief.Group]shed.Steel // the groups of the kits: only read
	plans  recent[*plan]
}

// plan is what the layout genes of a point come to. It is read by all that have them.
type plan struct {
	d        shed.Design // without sections
	repaired []int       // the layout genes
	idle     []bool      // of the genes of sections
	used     []brief.Group
	slots    []slot // where the sections of used stand; kit -1 where no gene chooses them
	tail     string // of the key, after the sections
	lacking  bool   // a link of the load path is missing
	laid     atomic.Pointer[layout]
}

// slot is the place of a group in a kit.
type slot struct{ kit, at int }

// kit is the genes that choose the sections of some groups together.
type kit struct {
	genes  []int
	groups []brief.Group
	made   []atomic.Pointer[chosen] // by option of the genes, the last gene's first; nil before it is asked for
}

// chosen is what options of a kit's genes come to.
type chosen struct {
	steel    []shed.Steel // by group
	texts    []string     // their part of the key
	repaired []int        // by gene
}

// newDecoder sorts the genes of a problem.
func newDecoder(p *Problem) *decoder {
	c := &decoder{layout: p.layoutDecided(), own: map[brief.Group]shed.Steel{}}
	for i := c.layout; i < len(p.genes); i++ {
		k := slices.IndexFunc(c.kits, func(k kit) bool {
			return slices.ContainsFunc(p.genes[i].groups, func(g brief.Group) bool { return slices.Contains(k.groups, g) })
		})
		if k < 0 {
			k = len(c.kits)
			c.kits = append(c.kits, kit{})
		}
		into := &c.kits[k]
		into.genes = append(into.genes, i)
		for _, g := range p.genes[i].groups {
			c.own[g] = shed.Steel{}
			if !slices.Contains(into.groups, g) {
				into.groups = append(into.groups, g)
			}
		}
	}
	for k := range c.kits {
		n := 1
		for _, i := range c.kits[k].genes {
			n *= p.genes[i].Count()
		}
		c.kits[k].made = make([]atomic.Pointer[chosen], n)
	}
	return c
}

// planOf is what the layout genes of a point come to.
func (p *Problem) planOf(point []int) *plan {
	c := p.decoder
	var room [128]byte
	key := room[:0]
	for _, o := range point[:c.layout] {
		key = binary.AppendUvarint(key, uint64(o))
	}
	if at, ok := c.plans.get(key); ok {
		return at
	}
	at := p.drawUp(point)
	c.plans.put(key, at)
	return at
}

// drawUp decodes the layout genes of a point. Which of the genes of sections are idle follows from that, and from which groups have
// sections of their own, which is the same for all points.
func (p *Problem) drawUp(point []int) *plan {
	c := p.decoder
	at := &plan{d: shed.Design{FlyBraces: p.Drawn.FlyBraces}, repaired: slices.Clone(point[:c.layout])}
	d := &at.d
	d.Struts.Eaves = true
	for i := range c.layout {
		p.genes[i].apply(d, at.repaired[i])
	}
	p.repairWalls(d)
	d.Steel = c.own
	at.used = p.Shed.UsedGroups(d)
	d.Steel = nil
	for i := range c.layout {
		g := &p.genes[i]
		if g.idle(d) {
			at.repaired[i] = 0
		} else if o := g.option(d); o >= 0 {
			at.repaired[i] = o
		}
	}
	at.idle, at.slots = make([]bool, 0, len(p.genes)-c.layout), make([]slot, 0, len(at.used))
	for i := c.layout; i < len(p.genes); i++ {
		at.idle = append(at.idle, p.genes[i].idleAmong(d, at.used))
	}
	for _, g := range at.used {
		at.slots = append(at.slots, c.slotOf(g))
	}
	at.tail = d.Key(nil)
	at.lacking = p.Shed.LinkMissing(d)
	return at
}

// slotOf finds the kit that chooses the section of a group.
func (c *decoder) slotOf(g brief.Group) slot {
	for k := range c.kits {
		if i := slices.Index(c.kits[k].groups, g); i >= 0 {
			return slot{k, i}
		}
	}
	return slot{-1, -1}
}

// chosenBy is what the options of a kit's genes in a point come to.
func (p *Problem) chosenBy(k *kit, point []int) *chosen {
	at := 0
	for _, i := range k.genes {
		at = at*p.genes[i].Count() + point[i]
	}
	if c := k.made[at].Load(); c != nil {
		return c
	}
	d := &shed.Design{Steel: map[brief.Group]shed.Steel{}}
	for _, i := range k.genes {
		p.genes[i].apply(d, point[i])
	}
	c := &chosen{}
	for _, g := range k.groups {
		c.steel, c.texts = append(c.steel, d.Steel[g]), append(c.texts, shed.SteelKey(g, d.Steel[g]))
	}
	for _, i := range k.genes {
		o := p.genes[i].option(d)
		if o < 0 {
			o = point[i]
		}
		c.repaired = append(c.repaired, o)
	}
	k.made[at].Store(c)
	return c
}

// repair is the point that a point means.
func (p *Problem) repair(at *plan, point []int) []int {
	out := append(make([]int, 0, len(point)), at.repaired...)
	out = out[:len(point)]
	for k := range p.decoder.kits {
		kit := &p.decoder.kits[k]
		c := p.chosenBy(kit, point)
		for n, i := range kit.genes {
			if !at.idle[i-p.decoder.layout] {
				out[i] = c.repaired[n]
			}
		}
	}
	return out
}

// Canonical implements optimize.Problem.
func (p *Problem) Canonical(point []int) (string, []int) {
	at := p.planOf(point)
	var room [512]byte
	key := room[:0]
	for i, g := range at.used {
		if s := at.slots[i]; s.kit >= 0 {
			key = append(key, p.chosenBy(&p.decoder.kits[s.kit], point).texts[s.at]...)
		} else {
			key = append(key, shed.SteelKey(g, p.designOf(at, point).Of(g))...)
		}
	}
	return string(append(key, at.tail...)), p.repair(at, point)
}

// Decode turns a point into a design, and returns the point as repaired. It never fails: what clashes with the
// architecture is not among the options, and what is left is mended by these rules. Prop lines are sorted and equal ones
// dropped. A wall size that is not rolled in the thickness asked for takes the next thicker. Where the brief wants one
// type of bracing on both walls, or bracing in the bays of the roof's, a wall takes the first free option that agrees,
// if there is one. Decisions that the design does not use are set to their first option. The design's lists are those of other designs
// of its layout: nobody writes to them.
func (p *Problem) Decode(point []int) (*shed.Design, []int) {
	at := p.planOf(point)
	return p.designOf(at, point), p.repair(at, point)
}

// designOf is the design of a point with a plan.
func (p *Problem) designOf(at *plan, point []int) *shed.Design {
	d := &shed.Design{}
	p.designIn(d, at, point)
	return d
}

// designIn is designOf in a design whose sections of before are gone.
func (p *Problem) designIn(d *shed.Design, at *plan, point []int) {
	steel := d.Steel
	if clear(steel); steel == nil {
		steel = make(map[brief.Group]shed.Steel, len(at.used))
	}
	*d = at.d
	d.Steel = steel
	for i, g := range at.used {
		if s := at.slots[i]; s.kit >= 0 {
			d.Steel[g] = p.chosenBy(&p.decoder.kits[s.kit], point).steel[s.at]
		}
	}
}

// recent keeps what was asked for lately, by a key: the last mostRecent entries at least, twice as many at most. The zero value is
// empty.
type recent[V any] struct {
	mu         sync.RWMutex
	young, old map[string]V
}

// mostRecent bounds the memory: a plan or a layout takes some 2 kB.
const mostRecent = 10_000

func (r *recent[V]) get(key []byte) (V, bool) {
	r.mu.RLock()
	v, ok := r.young[string(key)]
	if ok {
		r.mu.RUnlock()
		return v, true
	}
	v, ok = r.old[string(key)]
	r.mu.RUnlock()
	if ok {
		r.put(key, v)
	}
	return v, ok
}

func (r *recent[V]) put(key []byte, v V) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.young == nil || len(r.young) >= mostRecent {
		r.young, r.old = make(map[string]V, mostRecent/4), r.young
	}
	r.young[string(key)] = v
}
