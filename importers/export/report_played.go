package export

import (
	"cmp"
	"slices"

	"lanewright/planner/simulation"
)

// played is the sheet of what a play of the plan measured, the loops that ran
// short oftenest first.
func (r *report) played() grid {
	g := grid{name: "Played", frozen: 3, columns: []gridColumn{
		idColumn("Part", 16), idColumn("Cell", 10), idColumn("Station", 10), wordColumn("Verdict", 12),
		figureColumn("Cycles short", 10, percentFormat), figureColumn("At least", 9, percentFormat), figureColumn("At most", 9, percentFormat),
		figureColumn("Allowed", 9, percentFormat), figureColumn("Shortages", 10, wholeFormat),
		figureColumn("Mean length (min)", 10, oneFormat), figureColumn("Longest (min)", 10, oneFormat),
		figureColumn("Pieces there when wanted", 11, "0.0##%"), figureColumn("Pieces on hand, mean", 11, oneFormat),
		figureColumn("Containers", 11, wholeFormat), figureColumn("Would need", 9, wholeFormat),
		figureColumn("Left behind", 9, wholeFormat), figureColumn("Wait for a round (min)", 10, oneFormat), wordColumn("Mostly because", 46),
	}}
	list := slices.Clone(r.plan.Proof.Loops)
	slices.SortStableFunc(list, func(a, b simulation.LoopResult) int { return cmp.Compare(b.Rate, a.Rate) })
	for _, l := range list {
		g.rows = append(g.rows, playedRow(l))
	}
	return g
}

func playedRow(l simulation.LoopResult) []any {
	key := []any{string(l.Loop.Part), string(l.Loop.Cell), string(l.Loop.Station), verdictText(l.Verdict)}
	if l.Verdict == simulation.NotPlayed {
		return append(key, make([]any, 14)...)
	}
	return append(key, l.Rate, l.Low, l.High, l.Allowed, l.Shortages,
		l.ShortMean.Minutes(), l.ShortLongest.Minutes(), l.FillRate, l.OnHandMean,
		l.Containers, count(l.Enough), l.LeftBehind, l.SignalWait.Minutes(), text(l.Cause.Words()))
}

func verdictText(v simulation.Verdict) string {
	switch v {
	case simulation.Proved:
		return "proved"
	case simulation.Short:
		return "runs short"
	default:
		return "not played"
	}
}
