package main

import (
	"fmt"
	"strings"
	"sync"
	"time"

	"lanewright/planner/search"
)

// bar draws the progress of long work on a terminal.
type bar struct {
	p     *program
	mutex sync.Mutex
	drawn time.Time
	stage string
}

// progress returns what to tell progress to, and what to call at its end. On
// anything but a terminal nothing is drawn.
func (p *program) progress() (search.Progress, func()) {
	if !isTerminal(p.err) {
		return nil, func() {}
	}
	b := &bar{p: p}
	return b.draw, b.clear
}

// barWidth and barEvery keep the bar on one line and its cost unnoticed.
const (
	barWidth = 30
	barEvery = 80 * time.Millisecond
)

func (b *bar) draw(stage string, done, total int) {
	b.mutex.Lock()
	defer b.mutex.Unlock()
	now := time.Now()
	if stage == b.stage && done < total && now.Sub(b.drawn) < barEvery {
		return
	}
	b.stage, b.drawn = stage, now
	fmt.Fprintf(b.p.err, "\r\x1b[K%-12s %s", stage, share(done, total))
}

// share returns "[#####.....] 3 of 14".
func share(done, total int) string {
	if total <= 0 {
		return ""
	}
	full := min(done*barWidth/total, barWidth)
	return fmt.Sprintf("[%s%s] %d of %d", strings.Repeat("#", full), strings.Repeat(".", barWidth-full), done, total)
}

func (b *bar) clear() {
	b.mutex.Lock()
	defer b.mutex.Unlock()
	fmt.Fprint(b.p.err, "\r\x1b[K")
}
