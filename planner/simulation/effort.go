package simulation

import (
	"errors"
	"fmt"
)

// ErrTooMuch says that a play would take far longer than anybody waits.
var ErrTooMuch = errors.New("too much to play")

// mostEvents is what a play may take: a quarter of an hour of one core, several
// times what a plant of 20,000 loops asks with the default settings.
const mostEvents = 5e9

// affordable refuses a play of too many events, as a wrong unit in a rate or an
// interval asks for.
func (sc *script) affordable() error {
	events := 0.0
	for i := range sc.loops {
		l := &sc.loops[i]
		if !l.playable() {
			continue
		}
		net := float64(l.calendar.net[len(l.calendar.net)-1])
		opened := l.Rate.Float64() / 60e9 / l.pack * net
		events += 3*opened + float64(len(l.homes))*net/float64(max(1, l.interval))
	}
	events *= float64(sc.settings.Replications)
	if events <= mostEvents {
		return nil
	}
	return fmt.Errorf("%w: about %.2g events, %.2g are the limit; ask for fewer weeks or replications, or check the largest rates and the shortest intervals", ErrTooMuch, events, float64(mostEvents))
}
