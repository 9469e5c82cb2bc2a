package wire

import "lanewright/planner/buildlist"

// CutList is how the pieces of one part are cut from bars.
type CutList struct {
	Kit      string       `json:"kit"`
	Part     string       `json:"part"`
	KerfMM   float64      `json:"kerf_mm"`
	Pieces   int          `json:"pieces"`
	CutMM    float64      `json:"cut_mm" doc:"length of all pieces"`
	UsedMM   float64      `json:"used_mm" doc:"length of all bars"`
	BoughtMM float64      `json:"bought_mm" doc:"length of the bars that do not lie in the store"`
	LeastMM  float64      `json:"least_mm" doc:"no cutting buys less than this"`
	Waste    float64      `json:"waste" doc:"share of the bars that becomes no piece"`
	Proved   bool         `json:"proved" doc:"no cutting is better"`
	Cost     *float64     `json:"cost" doc:"of the bars bought; null is not known"`
	Patterns []CutPattern `json:"patterns"`
	Bars     []Bar        `json:"bars" doc:"those of the first pattern first"`
	Uncut    []CutPiece   `json:"uncut" doc:"pieces that no stock is long enough for"`
}

// CutPattern is how so many bars are cut alike.
type CutPattern struct {
	Times   int        `json:"times"`
	StockMM float64    `json:"stock_mm"`
	OnHand  bool       `json:"on_hand" doc:"it lies in the store"`
	Cuts    []CutAlike `json:"cuts"`
	RestMM  float64    `json:"rest_mm"`
}

// CutAlike is a number of pieces of one length.
type CutAlike struct {
	Count    int     `json:"count"`
	LengthMM float64 `json:"length_mm"`
}

// Bar is one bar and its pieces.
type Bar struct {
	StockMM float64    `json:"stock_mm"`
	OnHand  bool       `json:"on_hand"`
	Cuts    []CutPiece `json:"cuts"`
	RestMM  float64    `json:"rest_mm"`
}

// CutPiece is one piece on a bar.
type CutPiece struct {
	Rack     string  `json:"rack"`
	Mark     string  `json:"mark"`
	LengthMM float64 `json:"length_mm"`
}

func newCutList(c buildlist.CutList) CutList {
	cost, ok := c.Cost()
	return CutList{
		Kit: string(c.Kit), Part: string(c.Part.Part), KerfMM: c.Kerf.MM(), Pieces: c.Pieces,
		CutMM: c.Cut.MM(), UsedMM: c.Used.MM(), BoughtMM: c.Bought.MM(), LeastMM: c.Least.MM(), Waste: c.Waste(), Proved: c.Proved,
		Cost: known(cost.Float64(), ok), Patterns: convert(c.Patterns, newCutPattern), Bars: convert(c.Bars, newBar), Uncut: convert(c.Uncut, newCutPiece),
	}
}

func newCutPattern(p buildlist.Pattern) CutPattern {
	return CutPattern{
		Times: p.Times, StockMM: p.Length.MM(), OnHand: p.OnHand, RestMM: p.Rest.MM(),
		Cuts: convert(p.Cuts, func(a buildlist.Alike) CutAlike { return CutAlike{a.Count, a.Length.MM()} }),
	}
}

func newBar(b buildlist.Bar) Bar {
	return Bar{StockMM: b.Length.MM(), OnHand: b.OnHand, Cuts: convert(b.Cuts, newCutPiece), RestMM: b.Rest.MM()}
}

func newCutPiece(c buildlist.Cut) CutPiece {
	return CutPiece{Rack: string(c.Rack), Mark: c.Mark, LengthMM: c.Length.MM()}
}
