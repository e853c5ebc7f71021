package speed

import (
	"runtime"
	"runtime/metrics"
	"sync"
	"time"
)

// gauge watches the memory of the process while something runs.
type gauge struct {
	stop chan struct{}
	done sync.WaitGroup
	heap uint64 // greatest live and not yet collected objects
	held uint64 // greatest memory held from the system
}

// gaugeEvery is how often memory is read.
const gaugeEvery = 5 * time.Millisecond

// watchMemory starts a gauge on a heap that has just been collected.
func watchMemory() *gauge {
	runtime.GC()
	g := &gauge{stop: make(chan struct{})}
	g.done.Go(func() {
		tick := time.NewTicker(gaugeEvery)
		defer tick.Stop()
		for {
			g.read()
			select {
			case <-g.stop:
				return
			case <-tick.C:
			}
		}
	})
	return g
}

func (g *gauge) read() {
	m := []metrics.Sample{{Name: "/memory/classes/heap/objects:bytes"}, {Name: "/memory/classes/total:bytes"}, {Name: "/memory/classes/heap/released:bytes"}}
	metrics.Read(m)
	g.heap = max(g.heap, m[0].Value.Uint64())
	g.held = max(g.held, m[1].Value.Uint64()-m[2].Value.Uint64())
}

// end stops the gauge; heap and held are then good.
func (g *gauge) end() {
	close(g.stop)
	g.done.Wait()
	g.read()
}
