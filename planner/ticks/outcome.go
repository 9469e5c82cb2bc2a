package ticks

// Outcome is what became of a tick that was handed in.
type Outcome string

// Outcomes. A tick that is Known was kept before; one that Clashes has the id of one
// that says something else; for one that is Beyond the round has too many already.
const (
	Accepted Outcome = "accepted"
	Known    Outcome = "known"
	Clashes  Outcome = "clashes"
	Beyond   Outcome = "beyond"
)

// MostPerRound is how many ticks are kept of a round: some ten for each lane of the
// longest ones.
const MostPerRound = 2000

// Judge tells what becomes of ticks of a round that has so many already; kept are those
// with an id of theirs, and Judge adds to it. Where one clashes none may be stored.
func Judge(kept map[string]Tick, count int, list []Tick) []Outcome {
	out := make([]Outcome, len(list))
	for i, t := range list {
		before, there := kept[t.ID]
		switch {
		case there && before.Same(t):
			out[i] = Known
		case there:
			out[i] = Clashes
		case count >= MostPerRound:
			out[i] = Beyond
		default:
			out[i] = Accepted
			kept[t.ID] = t
			count++
		}
	}
	return out
}
