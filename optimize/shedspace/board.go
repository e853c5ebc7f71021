package shedspace

import "leanbay/model/shed"

// board keeps the models that a judge of the search built lately, by their layout: of a design whose layout was built before only
// what its sections change is made anew (shed.Model.Fit). A model is the last one's of its layout until the next of that layout. A
// judge that goes over to another shed, as what-ifs do, begins with an empty board.
type board struct {
	shed *shed.Shed // whose layouts they are
	key  []byte     // storage
	kept map[string]*drawn
	now  int // counts what was asked for
}

// drawn is a layout on the board.
type drawn struct {
	model *shed.Model
	used  int // when it was asked for last
}

// keptLayouts bounds how many a board keeps (some 100 kB each).
const keptLayouts = 48

// model is shed.Build's model of d, in storage that is the next's of its layout.
func (b *board) model(s *shed.Shed, d *shed.Design) *shed.Model {
	if b.shed != s {
		*b = board{shed: s, key: b.key, kept: map[string]*drawn{}}
	}
	b.now++
	b.key = d.AppendLayout(b.key[:0])
	if at, ok := b.kept[string(b.key)]; ok {
		at.used = b.now
		at.model.Fit(d)
		return at.model
	}
	if len(b.kept) == keptLayouts {
		b.forget()
	}
	m := s.Build(d)
	b.kept[string(b.key)] = &drawn{m, b.now}
	return m
}

// forget drops the layout that was not asked for longest.
func (b *board) forget() {
	oldest := ""
	for key, at := range b.kept {
		if oldest == "" || at.used < b.kept[oldest].used {
			oldest = key
		}
	}
	delete(b.kept, oldest)
}
