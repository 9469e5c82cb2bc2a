package placement

import (
	"cmp"
	"fmt"
	"slices"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// Codes of what somebody may want to know about a layout.
const (
	CodeSplit       = "placement.split"
	CodeRacksAdded  = "placement.racks-added"
	CodeRollerPitch = "placement.roller-pitch"
)

// notes lists the loops that had to be split and the racks that were added.
func (c *cell) notes(st *state, racks []structure.Rack) finding.List {
	var list finding.List
	for i := range c.loops {
		if h := st.head[i]; h >= 0 && st.items[h].next >= 0 {
			list = append(list, c.splitNote(st, i))
		}
	}
	added := map[plant.RackTypeCode]int{}
	n := 0
	for _, r := range racks {
		if r.Proposed {
			added[r.Type.RackType]++
			n++
		}
	}
	if n > 0 {
		list = append(list, c.addedNote(added, n, st.key().cost))
	}
	return list
}

func (c *cell) splitNote(st *state, i int) finding.Finding {
	l := &c.loops[i]
	places, racks := 0, map[int]bool{}
	for id := st.head[i]; id >= 0; id = st.items[id].next {
		places++
		racks[st.shelves[st.items[id].shelf].rack] = true
	}
	where := "levels of one rack"
	if len(racks) > 1 {
		where = fmt.Sprintf("levels of %d racks", len(racks))
	}
	of := ""
	if st.key().cost > 0 {
		of = ", also of the racks added,"
	}
	return finding.Finding{
		Severity: finding.Note, Code: CodeSplit, Origin: l.Origin,
		Subject: finding.Subject{Part: string(l.Part), Container: string(l.Container), Cell: string(l.Cell), Station: string(l.Station)},
		Summary: fmt.Sprintf("Part %s at station %s lies on %d %s", l.Part, l.Station, places, where),
		Detail:  fmt.Sprintf("No level%s has room for all %s side by side, so they were shared out. First in, first out then holds in each place only.", of, count(l.k, "container")),
		Remedy:  st.rackHelps(i, "Shorten its refill interval"),
	}
}

func (c *cell) addedNote(added map[plant.RackTypeCode]int, n int, cost int64) finding.Finding {
	types := make([]plant.RackTypeCode, 0, len(added))
	for t := range added {
		types = append(types, t)
	}
	slices.SortFunc(types, cmp.Compare[plant.RackTypeCode])
	what := ""
	for _, t := range types {
		if what != "" {
			what += ", "
		}
		what += fmt.Sprintf("%d of type %s", added[t], t)
	}
	price := fmt.Sprintf("They cost %s in all.", units.Money(cost))
	if !c.priced {
		price = fmt.Sprintf("They take %s of frontage; the plant gives no costs.", units.Length(cost))
	}
	f := finding.Finding{
		Severity: finding.Note, Code: CodeRacksAdded, Subject: finding.Subject{Cell: string(c.code)},
		Summary: fmt.Sprintf("Cell %s needs %d more racks: %s", c.code, n, what),
		Detail:  "The racks that stand do not hold all its loops. " + price,
		Remedy:  "Check where they would stand and whether the aisle has room, or shorten refill intervals.",
	}
	if n == 1 {
		f.Summary = fmt.Sprintf("Cell %s needs one more rack: %s", c.code, what)
	}
	if c.facts != nil {
		f.Origin = c.facts.Origin
	}
	return f
}

// Notes lists what somebody may want to know of a layout, whoever made it: containers
// too short for the rollers and levels filled unevenly.
func Notes(in Input, l Layout) finding.List {
	return append(rollers(in, l.Lanes), uneven(l.Racks, l.Lanes, in.Plant.GuideWidth)...)
}

// rollers notes containers too short for the plant's rollers: the shortest
// container of a lane lies on at least three, so the pitch is at most a third
// of its length along the lane.
func rollers(in Input, lanes []Lane) finding.List {
	pitch := in.Plant.RollerPitch
	if pitch <= 0 {
		return nil
	}
	type kind struct {
		box  plant.ContainerCode
		side plant.FlowSide
	}
	loops := byKey(in.Loops)
	along := map[kind]int{}
	for _, l := range lanes {
		if !l.Empty() {
			along[kind{loops[l.Loop].Container, l.Side}]++
		}
	}
	var list finding.List
	for k, n := range along {
		box := in.Index.Containers[k.box]
		long, _ := box.Along(k.side)
		if long/3 >= pitch {
			continue
		}
		list = append(list, finding.Finding{
			Severity: finding.Note, Code: CodeRollerPitch, Origin: box.Origin, Subject: finding.Subject{Container: string(k.box)},
			Summary: fmt.Sprintf("Container %s is %s along %s, less than three rollers of %s", k.box, long, count(n, "lane"), pitch),
			Detail:  "A container that lies on fewer than three rollers tips between them and stops.",
			Remedy:  fmt.Sprintf("Use rollers at most %.4g mm apart in these lanes, or turn the container.", long.MM()/3),
			Measure: &finding.Measure{Value: pitch.MM(), Limit: long.MM() / 3, Unit: "mm"},
			Source:  "common practice, no source",
		})
	}
	return list
}
