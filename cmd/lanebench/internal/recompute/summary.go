package recompute

// moves checks that today's layout plus the moves gives the plan's, container
// by container, for each part of each cell.
func (j *judge) moves() {
	if len(j.facts.sheets["Current layout"]) == 0 {
		if len(j.plan.Moves) > 0 {
			j.say("%d moves without a current layout", len(j.plan.Moves))
		}
		return
	}
	for _, m := range j.plan.Moves {
		if m.From == nil && m.To == nil {
			j.say("move of %s goes from nowhere to nowhere", m.Part)
		}
		if m.From != nil && m.To != nil && m.From.Rack == m.To.Rack && m.From.Level == m.To.Level {
			j.say("move of %s stays on rack %s level %d", m.Part, m.From.Rack, m.From.Level)
		}
	}
	type place struct {
		k  key
		at spot
	}
	here := map[place]bool{}
	for _, l := range j.plan.Lanes {
		if l.Part != "" {
			here[place{l.key(), spot{l.Rack, l.Level}}] = true
		}
	}
	for _, m := range j.plan.Moves {
		if m.To != nil && !here[place{key{m.Part, m.Cell, m.Station}, spot{m.To.Rack, m.To.Level}}] {
			j.say("move of %s to rack %s level %d, where it does not lie", m.Part, m.To.Rack, m.To.Level)
		}
	}
	today := map[string]map[spot]bool{}
	for _, c := range j.facts.sheets["Current layout"] {
		if today[c["Part"]] == nil {
			today[c["Part"]] = map[spot]bool{}
		}
		today[c["Part"]][spot{c["Rack"], c.whole("Level", 0)}] = true
	}
	moved := map[place]bool{}
	for _, m := range j.plan.Moves {
		if m.From != nil && !today[m.Part][spot{m.From.Rack, m.From.Level}] {
			j.say("move of %s from rack %s level %d, where it does not stand today", m.Part, m.From.Rack, m.From.Level)
		}
		if m.To != nil {
			moved[place{key{m.Part, m.Cell, m.Station}, spot{m.To.Rack, m.To.Level}}] = true
		}
	}
	for p := range here {
		if !today[p.k.part][p.at] && !moved[p] {
			j.say("loop %v lies on rack %s level %d, not there today and not moved", p.k, p.at.rack, p.at.level)
		}
	}
}

// summary adds up what the document says of itself.
func (j *judge) summary() {
	p, s := j.plan, j.plan.Summary
	handlers := map[string]bool{}
	for _, r := range p.Routes {
		handlers[r.Handler] = true
	}
	containers, used, free, proposed := 0, 0, 0, 0
	for _, l := range p.Loops {
		containers += l.Containers
	}
	for _, l := range p.Lanes {
		switch {
		case l.Kind == "return":
		case l.Part == "":
			free++
		default:
			used++
		}
	}
	for _, r := range p.Racks {
		if r.Proposed {
			proposed++
		}
	}
	without := map[key]bool{}
	for _, u := range p.Unplaced {
		without[key{u.Part, u.Cell, u.Station}] = true
	}
	for name, pair := range map[string][2]int{
		"loops": {s.Loops, len(p.Loops)}, "loops_placed": {s.LoopsPlaced, len(p.Loops) - len(without)},
		"lanes_used": {s.LanesUsed, used}, "lanes_free": {s.LanesFree, free},
		"racks": {s.Racks, len(p.Racks)}, "racks_proposed": {s.RacksProposed, proposed},
		"containers": {s.Containers, containers}, "routes": {s.Routes, len(p.Routes)}, "handlers": {s.Handlers, len(handlers)},
	} {
		if pair[0] != pair[1] {
			j.say("summary: %s %d, counted %d", name, pair[0], pair[1])
		}
	}
}
