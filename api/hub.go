package api

import (
	"context"
	"sync"
	"time"
)

// runWatcher tells that runs changed.
type runWatcher interface {
	// WatchRuns sends the id of each run that changed until ctx ends, then
	// closes the channel. It is a hint only: one may be lost.
	WatchRuns(ctx context.Context) (<-chan string, error)
}

// poll is how often a watched run is looked at where no hint came: hints may
// get lost.
const poll = 2 * time.Second

// hub shares one watch among all streams; it watches only while somebody
// listens.
type hub struct {
	watcher runWatcher
	mu      sync.Mutex
	joined  map[chan struct{}]string
	stop    context.CancelFunc
}

func newHub(w runWatcher) *hub {
	return &hub{watcher: w, joined: map[chan struct{}]string{}}
}

// join returns a channel that gets a hint when the run may have changed, and
// the function to leave with.
func (h *hub) join(run string) (hints <-chan struct{}, leave func()) {
	c := make(chan struct{}, 1)
	h.mu.Lock()
	defer h.mu.Unlock()
	h.joined[c] = run
	if h.stop == nil {
		ctx, cancel := context.WithCancel(context.Background())
		h.stop = cancel
		go h.watch(ctx)
	}
	return c, func() { h.leave(c) }
}

func (h *hub) leave(c chan struct{}) {
	h.mu.Lock()
	defer h.mu.Unlock()
	delete(h.joined, c)
	if len(h.joined) == 0 && h.stop != nil {
		h.stop()
		h.stop = nil
	}
}

// watch passes hints on until ctx ends. A watch that breaks is begun again;
// meanwhile the poll keeps the streams going.
func (h *hub) watch(ctx context.Context) {
	tick := time.NewTicker(poll)
	defer tick.Stop()
	var changed <-chan string
	for {
		if changed == nil {
			changed, _ = h.watcher.WatchRuns(ctx)
		}
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
			h.hint("")
		case run, ok := <-changed:
			if !ok {
				changed = nil
				select { // not at once: the database may be away
				case <-ctx.Done():
					return
				case <-tick.C:
				}
				continue
			}
			h.hint(run)
		}
	}
}

// hint wakes those who wait for a run, or everybody for the empty id. Who has
// a hint waiting needs no second one.
func (h *hub) hint(run string) {
	h.mu.Lock()
	defer h.mu.Unlock()
	for c, of := range h.joined {
		if run != "" && run != of {
			continue
		}
		select {
		case c <- struct{}{}:
		default:
		}
	}
}
