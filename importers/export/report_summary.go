package export

import (
	"fmt"
	"strings"
	"time"

	"github.com/xuri/excelize/v2"

	"lanewright/planner/plant"
	"lanewright/planner/search"
	"lanewright/planner/simulation"
)

// caution stands on every report.
const caution = "Screening only. Local codes, the makers' load tables and qualified people decide on racks, lifting and traffic; " +
	"this report tells them where to look."

// cellGrid is the table of cells on the Summary sheet.
func (r *report) cellGrid() grid {
	g := grid{columns: []gridColumn{
		idColumn("Cell", 34), wordColumn("Name", 26),
		figureColumn("Loops", 11, wholeFormat), figureColumn("Loops placed", 11, wholeFormat),
		figureColumn("Containers", 12, wholeFormat), figureColumn("Containers without a lane", 13, wholeFormat),
		figureColumn("Lanes needed", 11, wholeFormat), figureColumn("Lanes there", 11, wholeFormat),
		figureColumn("Lanes used", 11, wholeFormat), figureColumn("Lanes free", 11, wholeFormat),
		figureColumn("Return lanes", 11, wholeFormat),
		figureColumn("Racks", 9, wholeFormat), figureColumn("Racks to add", 9, wholeFormat),
		figureColumn("Effort (kg per h)", 12, oneFormat), figureColumn("Effort bound", 12, oneFormat),
		figureColumn("Gap", 9, percentFormat), wordColumn("Best possible", 11),
	}}
	var needed int
	for _, f := range r.inOrder() {
		g.rows = append(g.rows, r.cellFiguresRow(f))
		needed += f.needed
	}
	s := r.totals
	g.total = g.sums(map[string]any{
		"Loops": s.Loops, "Loops placed": s.LoopsPlaced, "Containers": s.Containers,
		"Containers without a lane": s.ContainersUnplaced, "Lanes needed": needed,
		"Lanes there": s.LanesUsed + s.LanesFree, "Lanes used": s.LanesUsed, "Lanes free": s.LanesFree,
		"Return lanes": s.ReturnLanes, "Racks": s.Racks, "Racks to add": s.RacksProposed, "Effort (kg per h)": s.Effort,
	})
	return g
}

func (r *report) cellFiguresRow(f *cellFigures) []any {
	var name any
	if c := r.facts.Cells[f.cell]; c != nil {
		name = text(c.Name)
	}
	row := []any{
		string(f.cell), name, f.loops, f.placed, f.containers, f.unplaced, f.needed, f.used + f.free, f.used, f.free,
		f.returnLanes, f.racks, f.proposed,
	}
	if !f.hasBound {
		return append(row, nil, nil, nil, nil)
	}
	return append(row, f.bound.Effort, f.bound.EffortBound, gap(f.bound.Effort, f.bound.EffortBound), yesNo(f.bound.Optimal))
}

// gap is how far a value is above its bound, as a share of the bound; blank
// where the bound says nothing.
func gap(value, bound float64) any {
	if bound <= 0 {
		return nil
	}
	return value/bound - 1
}

// keyFigures are the plan's sums, as label and value.
func (r *report) keyFigures() [][2]any {
	s, b := r.totals, r.plan.RouteBounds
	whole := r.whole.Summary()
	return [][2]any{
		{"Loops", s.Loops}, {"Loops placed", s.LoopsPlaced},
		{"Containers in loops", s.Containers}, {"Containers without a lane", s.ContainersUnplaced},
		{"Racks", s.Racks}, {"Racks to add", s.RacksProposed},
		{"Supply lanes with a part", s.LanesUsed}, {"Supply lanes free", s.LanesFree}, {"Return lanes", s.ReturnLanes},
		{"Pieces per net hour", s.PiecesPerHour}, {"Containers per net hour", s.ContainersPerHour},
		{"Effort (kg per net hour)", s.Effort},
		{"Routes", whole.Routes}, {"Routes, no plan has fewer than", b.RoutesBound}, {"Handlers", whole.Handlers},
		{"Travel per round of all routes (m)", b.Travel.Metres()}, {"Travel, no plan has less than (m)", b.TravelBound.Metres()},
		{"Moves against today", s.Moves}, {"Containers moved", s.MovedContainers},
		{"Findings: errors", s.Errors}, {"Findings: warnings", s.Warnings}, {"Findings: notes", s.Notes},
	}
}

// identity says which plan this is.
func (r *report) identity(at time.Time) [][2]any {
	p := r.plan
	s := p.Settings.Plant
	list := [][2]any{{"Plant", p.Plant}, {"Facts (revision)", p.Revision}}
	if len(r.chosen) > 0 {
		list = append(list, [2]any{"Cells", fmt.Sprint(codes(r.chosen)) + " (figures of routes, handlers and travel are the whole plant's; the sheets have the routes that stop there)"})
	}
	if !at.IsZero() {
		list = append(list, [2]any{"Report made", at.Format("2006-01-02 15:04 -07:00")})
	}
	return append(list, [][2]any{
		{"Service level", serviceText(s)}, {"History decides", historyText(s.History)},
		{"Seed", seedText(p.Settings.Plant.Seed)}, {"Planner version", p.Version},
		{"Units", fmt.Sprintf("lengths in %s, masses in %s, places and ways in m, times in min", r.lengthName, r.massName)},
		{"Search", stopText(p.Stopped)}, {"Played", playedText(p.Proof)},
		{"Caution", caution},
	}...)
}

// serviceText says what the plan promises of a loop whose use varies.
func serviceText(s plant.Settings) string {
	switch level := percent(s.ServiceLevel).String() + " %"; s.Measure {
	case plant.ServicePerYear:
		return fmt.Sprintf("a loop may run short %s times in a year of %s weeks", s.ShortagesPerYear, s.WeeksPerYear)
	case plant.ServiceFillRate:
		return level + " of pieces are there when they are wanted"
	default:
		return level + " of refill cycles pass with no shortage"
	}
}

func historyText(h plant.HistoryUse) string {
	switch h {
	case plant.HistoryAll:
		return "mean and variation, where it has days enough"
	case plant.HistoryVariation:
		return "variation, where the sheets give none and it has days enough"
	default:
		return "only loops that ask for the empirical model"
	}
}

// playedText says what a play of the plan proved.
func playedText(proof *simulation.Result) string {
	if proof == nil {
		return "no: whether its loops run dry was not tried"
	}
	verdicts := map[simulation.Verdict]int{}
	for _, l := range proof.Loops {
		verdicts[l.Verdict]++
	}
	return fmt.Sprintf("%d loops proved, %d run short, %d without a lane or a round (%d times %d weeks)",
		verdicts[simulation.Proved], verdicts[simulation.Short], verdicts[simulation.NotPlayed], proof.Settings.Replications, proof.Settings.Weeks)
}

func stopText(s search.Stop) string {
	if s == search.Cancelled {
		return "cut short by a time limit or a person: running it again may give another plan"
	}
	return "ran to its end: the same facts, settings and seed give this plan again"
}

// summaryWriter walks down the Summary sheet.
type summaryWriter struct {
	*book
	sw *excelize.StreamWriter
	at int
}

func (s *summaryWriter) line(height float64, looks func(int) look, cells ...any) {
	s.at++
	s.row(s.sw, s.at, height, cells, looks)
}

func (s *summaryWriter) heading(title string, columns int) {
	s.at++
	cells := make([]any, columns)
	cells[0] = title
	s.line(18, same(look{bold: true, size: 12, ink: deepWater, under: true}), cells...)
}

func (r *report) summarySheet(b *book, at time.Time) {
	const name = "Summary"
	cells := r.cellGrid()
	wide := len(cells.columns)
	sw := b.stream(name, true)
	if b.err != nil {
		return
	}
	for i, c := range cells.columns {
		b.note(sw.SetColWidth(i+1, i+1, c.width))
	}
	s := &summaryWriter{book: b, sw: sw}
	b.note(sw.SetPanes(&excelize.Panes{Freeze: true, YSplit: 2, TopLeftCell: "A3", ActivePane: "bottomLeft"}))
	s.title(r.plan.Plant, wide)
	s.pairs(r.identity(at))
	s.heading("Key figures", wide)
	s.figures(r.keyFigures())
	s.heading("Cells", wide)
	s.cells(cells)
	b.page(name, r.plan.Plant, "A1:"+cellName(wide, s.at), 0)
	b.note(sw.Flush())
}

func (s *summaryWriter) title(plantName string, wide int) {
	band := make([]any, wide)
	band[0] = "Plant rack report"
	s.line(28, same(look{bold: true, size: 18, ink: white, paper: deepWater}), band...)
	band = make([]any, wide)
	band[0] = strings.TrimSpace(plantName)
	s.line(20, same(look{bold: true, size: 13, ink: deepWater, paper: paleWater}), band...)
}

func (s *summaryWriter) pairs(list [][2]any) {
	for _, p := range list {
		s.line(0, func(i int) look { return look{bold: i == 0} }, p[0], p[1])
	}
}

// figures writes labels and numbers in two blocks side by side, so that they
// stand on one screen.
func (s *summaryWriter) figures(list [][2]any) {
	half := (len(list) + 1) / 2
	for i, left := range list[:half] {
		cells := []any{left[0], figure(left[1])}
		if half+i < len(list) {
			right := list[half+i]
			cells = append(cells, nil, right[0], nil, nil, nil, nil, figure(right[1]))
		}
		s.line(0, same(look{}), cells...)
	}
}

// figure is a number with the format that its kind needs.
func figure(v any) styled {
	format := wholeFormat
	if _, ok := v.(float64); ok {
		format = oneFormat
	}
	return styled{v, look{format: format, bold: true, right: true}}
}

func (s *summaryWriter) cells(g grid) {
	s.line(42, g.headLook, g.heads()...)
	first := s.at
	for _, row := range g.rows {
		s.line(0, g.look, row...)
	}
	s.note(s.file.AutoFilter("Summary", fmt.Sprintf("A%d:%s", first, cellName(len(g.columns), s.at)), nil))
	s.line(0, g.totalLook, g.total...)
}
