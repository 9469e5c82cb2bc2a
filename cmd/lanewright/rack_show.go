package main

import (
	"context"
	"fmt"
	"io"
	"strconv"
	"strings"

	"lanewright/planner"
	"lanewright/planner/buildlist"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// usesShown is how many members of a rack are listed by how far they are used.
const usesShown = 8

// rackShow plans the plant and shows one of its racks as it is built.
func (p *program) rackShow(ctx context.Context, names []string, o rackOptions) error {
	if o.rack == "" {
		return usagef("--rack is missing: the rack to show")
	}
	return p.built(ctx, names, buildOptions{rack: o.rack, json: o.json, plan: o.plan}, writeRack)
}

// writeRack shows geometry, screening, build list and assembly of one rack.
func writeRack(w io.Writer, b planner.Build) {
	r := b.Racks[0]
	fmt.Fprintf(w, "rack %s of cell %s", r.Rack.Rack, r.Rack.Cell)
	if f := r.Frame; f != nil {
		fmt.Fprintf(w, ", type %s, kit %s: %s wide, %s deep, %s high\n\n", f.Type.RackType, f.Kit.Kit, b.Unit.Text(f.Width), b.Unit.Text(f.Depth), b.Unit.Text(f.Height))
		table(w, deckRows(f, b.Unit))
		writeScreening(w, r.Screening)
	}
	fmt.Fprintln(w)
	writeBuild(w, b)
	writePieces(w, r)
	for i, s := range r.List.Steps {
		fmt.Fprintf(w, "%d. %s. %s\n", i+1, s.Title, wrap(s.Text, "   "))
		if s.Caution != "" {
			fmt.Fprintf(w, "   Caution: %s\n", wrap(s.Caution, "   "))
		}
	}
	fmt.Fprintln(w)
	writeFindings(w, b.Findings)
	writeCautions(w)
}

func writeCautions(w io.Writer) {
	for _, c := range structure.Cautions() {
		fmt.Fprintln(w, wrap(c, ""))
	}
}

// deckRows are the levels as they are built.
func deckRows(f *structure.Frame, u buildlist.Unit) [][]string {
	rows := [][]string{{"level", "kind", "pick height", "load height", "lane", "passes", "free at the pick edge", "lanes"}}
	for _, d := range f.Decks {
		rows = append(rows, []string{
			strconv.Itoa(d.Level), string(d.Kind), u.Text(d.PickHeight), u.Text(d.LoadHeight()), u.Text(d.LaneLength),
			open(d.Clear, u), open(d.PickClear, u), strconv.Itoa(len(d.Lanes)),
		})
	}
	return rows
}

// open is a free height; nothing stands above where it is 0.
func open(l units.Length, u buildlist.Unit) string {
	if l == 0 {
		return "open"
	}
	return u.Text(l)
}

// writeScreening shows the members that are used most and how firm the rack
// stands.
func writeScreening(w io.Writer, s structure.Screening) {
	fmt.Fprintf(w, "\nown mass %.1f kg, full lanes %.1f kg, %.1f times as high as its base\n\n", s.OwnMass, s.Load, s.Slenderness)
	rows := [][]string{{"used most", "what", "by", "carries", "is", "limit", "share"}}
	for _, u := range s.Uses[:min(len(s.Uses), usesShown)] {
		rows = append(rows, []string{
			u.Mark, string(u.Role), string(u.By), fmt.Sprintf("%.1f kg", u.Load), fmt.Sprintf("%.3g %s", u.Value, u.Unit), fmt.Sprintf("%.3g", u.Limit), fmt.Sprintf("%.0f %%", 100*u.Share),
		})
	}
	if len(rows) > 1 {
		table(w, rows)
	}
	for _, t := range s.Tips {
		fmt.Fprintf(w, "over the %s it leans %.1f° before it falls; held %.1f times as firmly as a push lifts it\n", t.Edge, t.Angle, t.Push)
	}
}

// writePieces lists every piece with its place.
func writePieces(w io.Writer, r planner.RackBuild) {
	rows := [][]string{{"mark", "what", "part", "length", "holes or rollers", "where it goes"}}
	for _, p := range r.List.Pieces {
		var holes []string
		if p.Rollers > 0 {
			holes = append(holes, plural(p.Rollers, "roller"))
		}
		for _, h := range p.Holes {
			text := r.List.Unit.Text(h.At)
			if h.Number > 0 {
				text = fmt.Sprintf("no. %d", h.Number)
			}
			holes = append(holes, text+" "+strings.Join(h.Meets, "+"))
		}
		rows = append(rows, []string{p.Mark, string(p.Role), string(p.Part.Part), r.List.Unit.Text(p.Length), strings.Join(holes, ", "), p.Where})
	}
	table(w, rows)
	fmt.Fprintln(w)
}
