package routing

import (
	"cmp"
	"fmt"
	"maps"
	"slices"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
)

// meeting is a pair of rounds of different handlers that are in one place at once.
type meeting struct {
	place
	a, b string
}

// noteMeetings reports the rounds that meet in a single-file aisle, and the markets
// where more rounds load at once than there are places. Names are those of the
// turns of each handler, in their order.
func (w *work) noteMeetings(list []staff, names [][]string) {
	s := newStaggerer(w, list)
	strips := map[int][]string{}
	for _, m := range s.pairs(names) {
		strips[m.strip] = append(strips[m.strip], m.a+" and "+m.b)
	}
	for i, strip := range w.in.Network.Strips() {
		if pairs := strips[i+1]; len(pairs) > 0 {
			w.plan.Findings = append(w.plan.Findings, w.meetInAisle(i, pairs, string(strip.From), string(strip.To)))
		}
	}
	markets := s.loadingAtOnce()
	for _, m := range slices.Sorted(maps.Keys(markets)) {
		w.noteMarket(m, markets[m])
	}
}

// pairs lists the meetings in single-file aisles, by place and names.
func (s *staggerer) pairs(names [][]string) []meeting {
	var found []meeting
	for i := range s.list {
		for k, t := range s.list[i].turns {
			for _, h := range s.held[i][k] {
				if h.strip > 0 {
					found = append(found, s.met(i, t, h, names[i][k], names)...)
				}
			}
		}
	}
	slices.SortFunc(found, func(a, b meeting) int {
		return cmp.Or(cmp.Compare(a.strip, b.strip), cmp.Compare(len(a.a), len(b.a)), cmp.Compare(a.a, b.a), cmp.Compare(len(a.b), len(b.b)), cmp.Compare(a.b, b.b))
	})
	return slices.Compact(found)
}

// met lists the later handlers whose rounds meet one.
func (s *staggerer) met(i int, t turn, h hold, name string, names [][]string) []meeting {
	var found []meeting
	for j := i + 1; j < len(s.list); j++ {
		for k, u := range s.list[j].turns {
			for _, g := range s.held[j][k] {
				if g.place == h.place && s.overlap(t, h, 0, u, g) {
					a, b := name, names[j][k]
					if len(a) > len(b) || len(a) == len(b) && a > b {
						a, b = b, a
					}
					found = append(found, meeting{h.place, a, b})
				}
			}
		}
	}
	return found
}

func (w *work) meetInAisle(i int, pairs []string, from, to string) finding.Finding {
	strip := w.in.Network.Strips()[i]
	where := fmt.Sprintf("the single-file aisle from %s to %s", from, to)
	if strip.Aisles > 1 {
		where = fmt.Sprintf("the single-file stretch of %d aisles at %s", strip.Aisles, from)
	}
	f := finding.Finding{
		Severity: finding.Warning, Code: CodeMeetInAisle, Subject: finding.Subject{Point: from},
		Summary: fmt.Sprintf("Rounds meet in %s: %s", where, firstOf(pairs)),
		Detail:  "By the timetable, at mean loads, two rounds are in it at the same time, where they can neither pass nor meet. The minutes at which handlers begin were chosen to avoid it, as far as the shift and the interval leave room.",
		Remedy:  "Make the aisle one way, give it a place to pass (an aisle point with a wide aisle), serve its racks by one route, or let one of the routes have another interval.",
		Measure: &finding.Measure{Value: float64(len(pairs)), Limit: 0, Unit: "pairs of routes"},
	}
	for _, a := range w.in.Index.Plant.Aisles {
		if a.SingleFile && a.From == strip.From && a.To == strip.To {
			f.Origin = a.Origin
		}
	}
	return f
}

// firstOf names at most four.
func firstOf(names []string) string {
	const most = 4
	if len(names) <= most {
		return joined(names)
	}
	return joined(names[:most]) + fmt.Sprintf(" and %d pairs more", len(names)-most)
}

func joined(names []string) string {
	text := names[0]
	for _, n := range names[1:] {
		text += ", " + n
	}
	return text
}

// noteMarket says how many rounds load at a market at once: a warning where it has
// fewer places, a note where the sheet does not say how many it has.
func (w *work) noteMarket(m plant.PointCode, most int) {
	point := w.in.Index.Points[m]
	if most <= max(1, point.Places) {
		return
	}
	f := finding.Finding{
		Severity: finding.Note, Code: CodeMarketFull, Origin: point.Origin, Subject: finding.Subject{Point: string(m)},
		Summary: fmt.Sprintf("Up to %d rounds load at market %s at the same time", most, m),
		Detail:  "Each round stands at its market until its containers are loaded. The sheet does not say how many may do so at once.",
		Remedy:  "Fill in Places of the market on the sheet Aisle points: handlers then begin some minutes apart, as far as their time allows.",
		Measure: &finding.Measure{Value: float64(most), Limit: float64(point.Places), Unit: "rounds"},
	}
	if point.Places > 0 {
		f.Severity = finding.Warning
		f.Summary += fmt.Sprintf(", which has places for %d", point.Places)
		f.Detail = "Each round stands at its market until its containers are loaded. Handlers begin apart as far as their time allows, and that does not leave room enough."
		f.Remedy = "Add loading places, load quicker, or let some routes start from another market or have another interval."
	}
	w.plan.Findings = append(w.plan.Findings, f)
}
