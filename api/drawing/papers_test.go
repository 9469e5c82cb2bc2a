package drawing

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/color"
	"io"
	"math"
	"os"
	"os/exec"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/oned"
	"github.com/makiuchi-d/gozxing/qrcode"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/importers"
	"lanewright/planner"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/testdata/plants"
)

// skerrowPlans are quick plans of the made-up plant by unit of length, made once each; the
// tests only read them.
var skerrowPlans = map[string]func() (Papers, error){"mm": plannedIn("mm"), "in": plannedIn("in"), "ft": plannedIn("ft")}

func plannedIn(unit string) func() (Papers, error) {
	return sync.OnceValues(func() (Papers, error) {
		read, err := importers.ReadBytes(context.Background(), plants.SkerrowName, plants.Skerrow)
		if err != nil {
			return Papers{}, err
		}
		read.Plant.Settings.LengthUnit = unit
		s := planner.DefaultSettings(&read.Plant)
		s.Placement.Steps = 0
		plan, err := planner.Run(context.Background(), planner.Input{Plant: &read.Plant}, s, planner.Options{Threads: 2})
		return Papers{Facts: &read.Plant, Plan: plan, Name: "plan 7"}, err
	})
}

// papers are those of the made-up plant in a unit of length.
func papers(t testing.TB, unit string, cells ...plant.CellCode) Papers {
	t.Helper()
	p, err := skerrowPlans[unit]()
	require.NoError(t, err)
	p.Cells = cells
	return p
}

// TestLabelSheets: labels lie inside their sheet, side by side, at the places that the
// makers of such sheets print for them (from memory: 63.5 x 38.1 begins 7.2 mm from the
// left and 15.1 mm from the top and steps 66 mm; 99.1 x 67.7 begins at 4.6 and 13.1 and
// steps 101.6; 4 x 2 in begins 5/32 in from the left and 1/2 in from the top and steps
// 4 3/16 in).
func TestLabelSheets(t *testing.T) {
	t.Parallel()
	for name, want := range map[string]struct{ left, top, step float64 }{
		"63.5x38.1": {7.2, 15.1, 66}, "99.1x67.7": {4.6, 13.1, 101.6}, "99.1x38.1": {4.6, 15.1, 101.6},
		"4x2in": {5.0 / 32 * inch, inch / 2, 4.1875 * inch}, "4x3.33in": {5.0 / 32 * inch, inch / 2, 4.1875 * inch},
	} {
		l, err := ParseLabelSheet(name)
		require.NoError(t, err)
		assert.InDelta(t, want.left, l.Left, 0.1, name)
		assert.InDelta(t, want.top, l.Top, 0.1, name)
		assert.InDelta(t, want.step, l.StepX, 0.1, name)
	}
	for _, l := range append(LabelSheets(), cardSheets[:]...) {
		var taken []box
		for n := range l.PerSheet() {
			at := l.place(n)
			assert.True(t, box{0, 0, l.Sheet.Width, l.Sheet.Height}.within(-1e-9).holds(at), "%s: %v", l.Name, at)
			for _, o := range taken {
				assert.False(t, o.within(1e-9).meets(at), "%s: %v and %v", l.Name, o, at)
			}
			taken = append(taken, at)
		}
	}
	single, err := ParseLabelSheet("page:4x3in")
	require.NoError(t, err)
	assert.InDelta(t, 4*inch, single.Sheet.Width, 1e-9)
	assert.InDelta(t, 3*inch, single.Label.Height, 1e-9)
	for _, wrong := range []string{"", "A4", "63x38", "page:", "page:100", "page:axb", "page:40x60", "page:100x20", "page:1e9x100", "page:NaNx100", "page:-100x60"} {
		_, err := ParseLabelSheet(wrong)
		assert.Error(t, err, wrong)
	}
}

// raster draws what is black on a paper as dots.
func raster(p *recorder, in box) image.Image {
	const dots = 12.0 // a millimetre: about 300 an inch
	m := image.NewGray(image.Rect(0, 0, int(in.width()*dots), int(in.height()*dots)))
	for i := range m.Pix {
		m.Pix[i] = 255
	}
	for _, a := range p.areas[Black] {
		left, top := math.Round((a[0].X-in.left)*dots), math.Round((a[0].Y-in.top)*dots)
		right, bottom := math.Round((a[2].X-in.left)*dots), math.Round((a[2].Y-in.top)*dots)
		for y := int(top); y < int(bottom); y++ {
			for x := int(left); x < int(right); x++ {
				m.Set(x, y, color.Black)
			}
		}
	}
	return m
}

// decoded are what readers of another maker read on a paper: the QR code and the
// Code 128; empty where there is none.
func decoded(p *recorder, in box) (square, bars string) {
	bitmap, err := gozxing.NewBinaryBitmapFromImage(raster(p, in))
	if err != nil {
		return "", ""
	}
	hints := map[gozxing.DecodeHintType]any{gozxing.DecodeHintType_TRY_HARDER: true, gozxing.DecodeHintType_CHARACTER_SET: "UTF-8"}
	if r, err := qrcode.NewQRCodeReader().Decode(bitmap, hints); err == nil {
		square = r.GetText()
	}
	if r, err := oned.NewCode128Reader().Decode(bitmap, hints); err == nil {
		bars = r.GetText()
	}
	return square, bars
}

// alone is what a reader reads of a QR code of a text with nothing around it. On a label
// the reader does not find one code in some thousands, as that of L50/2-3, whatever its
// size: its corners look to it like another version's.
func alone(text string) string {
	s, ok := squareCode(text)
	if !ok {
		return ""
	}
	const dots, edge = 4, 4 // a module; modules around the code
	n := len(s.dark)
	m := image.NewGray(image.Rect(0, 0, (n+2*edge)*dots, (n+2*edge)*dots))
	for i := range m.Pix {
		m.Pix[i] = 255
	}
	for y := range n * dots {
		for x := range n * dots {
			if s.dark[y/dots][x/dots] {
				m.Set(x+edge*dots, y+edge*dots, color.Black)
			}
		}
	}
	bitmap, err := gozxing.NewBinaryBitmapFromImage(m)
	if err != nil {
		return ""
	}
	r, err := qrcode.NewQRCodeReader().Decode(bitmap, map[gozxing.DecodeHintType]any{gozxing.DecodeHintType_PURE_BARCODE: true, gozxing.DecodeHintType_CHARACTER_SET: "UTF-8"})
	if err != nil {
		return ""
	}
	return r.GetText()
}

// drawnTag records one tag on a label and holds it to what all keep: everything is
// inside the label, and no text lies over another or over a code's quiet zone.
func drawnTag(t require.TestingT, tag tag, l LabelSheet) (*recorder, box, flaws) {
	p := record(nil)
	in := l.place(0).within(l.inset())
	b := &board{Paper: p, room: in}
	f := tag.draw(b, in)
	require.True(t, in.within(-0.02).holds(p.box), "%s: drawn %v in %v", l.Name, p.box, in)
	for i, a := range b.taken {
		require.True(t, in.within(-0.02).holds(a), "%s: %v stands out of %v", l.Name, a, in)
		for _, o := range b.taken[:i] {
			require.False(t, a.within(0.005).meets(o), "%s: %v lies over %v", l.Name, a, o)
		}
	}
	return p, in, f
}

// TestLabelsCanBeRead: on each size a reader reads the address back from both codes,
// the texts stand on the label, and where the sheet has room the address is 10 mm high.
func TestLabelsCanBeRead(t *testing.T) {
	t.Parallel()
	p := papers(t, "mm", "LENS", "MAST")
	d := p.desk()
	require.NotEmpty(t, d.Plan.Lanes)
	for _, l := range append(LabelSheets(), mustSheet(t, "page:100x60")) {
		for n, lane := range d.Plan.Lanes {
			if n%19 != 0 {
				continue
			}
			address := placement.Spot{Rack: lane.Rack, Level: lane.Level, Lane: lane.Lane}.Address()
			r, in, f := drawnTag(t, d.laneTag(lane), l)
			square, bars := decoded(r, in)
			assert.Equal(t, address, square, "%s", l.Name)
			assert.Equal(t, address, bars, "%s", l.Name)
			texts := r.words()
			if !lane.Empty() {
				assert.Equal(t, 1, texts[string(lane.Loop.Part)], "%s %s", l.Name, address)
			}
			if l.Name == p.LabelSheet(LaneLabels).Name {
				assert.Zero(t, f.signs, "%s is lower than 10 mm", address)
			}
			for _, s := range r.texts {
				if s.Text == spot(lane.Level, lane.Lane) {
					assert.GreaterOrEqual(t, s.Size*capHigh, 9.9, "%s %s", l.Name, address)
				}
			}
		}
	}
}

func mustSheet(t require.TestingT, name string) LabelSheet {
	l, err := ParseLabelSheet(name)
	require.NoError(t, err)
	return l
}

// TestAnyLabel: whatever codes and texts a plant has, on any size nothing lies over
// anything else, and what has no room is told.
func TestAnyLabel(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		l := rapid.SampledFrom(append(LabelSheets(), cardSheets[0], cardSheets[1], mustSheet(t, "page:60x36"), mustSheet(t, "page:150x90"))).Draw(t, "sheet")
		rack := code(t, "rack")
		one := tag{big: append([][]string{{rack + "/2-3"}, {rack, "2-3"}}, inLines(rack)...), code: rack + "/2-3", far: true}
		part := code(t, "part")
		one.lines = []tagLine{{text: part, size: 6, bold: true, needed: true}, {text: rapid.StringN(0, 90, 300).Draw(t, "text"), size: 4}, {text: code(t, "last"), size: 3}}
		r, in, f := drawnTag(t, one, l)
		square, bars := decoded(r, in)
		if !f.bars {
			require.Equal(t, one.code, bars)
		}
		if square == "" && !f.square {
			square = alone(one.code)
		}
		if !f.square && !strings.ContainsFunc(one.code, func(r rune) bool { return r > '~' || r < ' ' }) {
			require.Equal(t, one.code, square)
		}
		if !f.lost {
			have := ""
			for _, s := range r.texts {
				have += strings.Join(strings.Fields(s.Text), "")
			}
			require.Contains(t, have, strings.Join(strings.Fields(part), ""))
		}
	})
}

// TestCodesOfOtherLetters: Code 128 has no signs beyond ASCII, so such a label has none
// and says so; the QR code has them.
func TestCodesOfOtherLetters(t *testing.T) {
	t.Parallel()
	p, in, f := drawnTag(t, tag{big: [][]string{{"Größe"}}, code: "Größe-7/2-3"}, mustSheet(t, "99.1x67.7"))
	square, bars := decoded(p, in)
	assert.Equal(t, "Größe-7/2-3", square)
	assert.Empty(t, bars)
	assert.True(t, f.bars)
	assert.Equal(t, []string{"On 1 of 1 labels there is no Code 128, for want of room or of signs that it has; the QR code says the same."}, shortOf([]flaws{f}, "labels"))
}

// TestLabelPages: labels used already are left out, and each lane has its label.
func TestLabelPages(t *testing.T) {
	t.Parallel()
	p := papers(t, "mm", "TIDE")
	lanes := len(p.desk().Plan.Lanes)
	for _, skip := range []int{0, 5, 20} {
		var out, again bytes.Buffer
		o := LabelOptions{Kind: LaneLabels, Sheet: mustSheet(t, "63.5x38.1"), Skip: skip}
		_, err := p.Labels(&out, o)
		require.NoError(t, err)
		_, err = p.Labels(&again, o)
		require.NoError(t, err)
		assert.True(t, bytes.Equal(out.Bytes(), again.Bytes()), "the same bytes")
		assert.Equal(t, (lanes+skip+20)/21, pagesOf(out.Bytes()))
	}
	text := textOf(t, func(w io.Writer) error {
		_, err := p.Labels(w, LabelOptions{Kind: RackLabels, Sheet: mustSheet(t, "99.1x38.1"), Racks: []plant.RackCode{"TIDE-02"}})
		return err
	})
	assert.Contains(t, text, "TIDE-02")
	assert.NotContains(t, text, "TIDE-01")
	var many *TooManyError
	big := *p.Plan
	for len(big.Lanes) <= MostTags {
		big.Lanes = append(big.Lanes, big.Lanes...)
	}
	_, err := Papers{Facts: p.Facts, Plan: &big}.Labels(io.Discard, LabelOptions{Kind: LaneLabels, Sheet: mustSheet(t, "63.5x38.1")})
	require.ErrorAs(t, err, &many)
	assert.Contains(t, err.Error(), "choose some cells")
}

func pagesOf(pdf []byte) int { return bytes.Count(pdf, []byte("/Type /Page\n")) }

// textOf is what another program reads in a document.
func textOf(t *testing.T, write func(io.Writer) error) string {
	t.Helper()
	program, err := exec.LookPath("pdftotext")
	if err != nil {
		require.Empty(t, os.Getenv("CI"), "pdftotext is not installed: install the package poppler-utils")
		t.Skip("pdftotext, of poppler-utils, is not installed")
	}
	file := t.TempDir() + "/paper.pdf"
	f, err := os.Create(file)
	require.NoError(t, err)
	require.NoError(t, write(f))
	require.NoError(t, f.Close())
	out, err := exec.Command(program, "-layout", file, "-").CombinedOutput()
	require.NoError(t, err)
	return string(out)
}

// TestCards: each container of each loop has one card, dealt over the lanes as the
// plan fills them.
func TestCards(t *testing.T) {
	t.Parallel()
	p := papers(t, "in", "LENS")
	d := p.desk()
	cards := 0
	for i := range d.Plan.Loops {
		l := &d.Plan.Loops[i]
		list := d.cards(l)
		require.Len(t, list, l.Containers)
		cards += len(list)
		count := map[string]int{}
		for n, c := range list {
			count[c.lines[1].text]++
			assert.Contains(t, c.lines[4].text, fmt.Sprintf("card %d of %d", n+1, l.Containers))
			r, in, f := drawnTag(t, c, p.CardSheet())
			assert.False(t, f.lost || f.square, "%+v", f)
			if n == 0 {
				square, _ := decoded(r, in)
				assert.Equal(t, c.code, square)
			}
		}
		for _, lane := range d.byLoop[l.Key] {
			assert.Equal(t, lane.Containers, count["to "+placement.Spot{Rack: lane.Rack, Level: lane.Level, Lane: lane.Lane}.Address()], "%v", l.Key)
		}
	}
	var out bytes.Buffer
	short, err := p.Cards(&out)
	require.NoError(t, err)
	assert.Empty(t, short)
	assert.Equal(t, (cards+7)/8, pagesOf(out.Bytes()))
}

// leavesApart holds pages to what all papers keep.
func leavesApart(t *testing.T, d *desk, leaves []leaf) []map[string]int {
	t.Helper()
	var words []map[string]int
	s := d.measure().sheet()
	for i, l := range leaves {
		p := record(nil)
		b := &board{Paper: p, room: s.inside()}
		d.foot(b, l.title, fmt.Sprintf("page %d of %d", i+1, len(leaves)))
		l.body(b)
		apartAndInside(t, p, s, l.title)
		words = append(words, p.words())
	}
	return words
}

// TestReport: on A4 and on Letter texts keep apart, every loop of a cell stands in its
// table, every rack is drawn, and the table of cells names the right page.
func TestReport(t *testing.T) {
	t.Parallel()
	for _, unit := range []string{"mm", "ft"} {
		p := papers(t, unit)
		r := newReporter(p, ReportOptions{Since: &Since{"plan 6", Table{Heading: []string{"", "before", "now"}, Rows: [][]string{{"loops placed", "440", "452"}}}}})
		leaves := r.leaves(r.frames(t.Context()))
		words := leavesApart(t, r.desk, leaves)
		all := map[string]int{}
		first := map[string]int{}
		var titles []string
		for _, c := range r.figured {
			titles = append(titles, joined("  ", "Cell "+c.Cell, c.Name))
		}
		for i, page := range words {
			for w, n := range page {
				all[w] += n
				if slices.Contains(titles, w) {
					first[w] = i + 1
				}
			}
		}
		for _, l := range p.Plan.Loops {
			assert.Positive(t, all[string(l.Part)], "%s %v", unit, l.Key)
		}
		for _, k := range p.Plan.Racks {
			found := slices.ContainsFunc(words, func(page map[string]int) bool {
				for w := range page {
					if strings.HasPrefix(w, string(k.Rack)) && strings.Contains(w, ", 1:") {
						return true
					}
				}
				return false
			})
			assert.True(t, found, "%s: %s is not drawn", unit, k.Rack)
		}
		for _, route := range p.Plan.Routes {
			assert.Positive(t, all["Route "+route.Route], route.Route)
		}
		assert.Positive(t, all["What changed since plan 6"])
		assert.Positive(t, all["452"])
		// The cells' pages are as the table says.
		require.Len(t, first, len(r.figured))
		at := r.pages
		for i, title := range titles {
			assert.Equal(t, first[title], at[i], title)
		}
	}
}

// TestReportReads: another program reads the key figures back; one of a few cells has
// those only, and says so.
func TestReportReads(t *testing.T) {
	t.Parallel()
	p := papers(t, "in", "LENS", "TIDE")
	text := textOf(t, func(w io.Writer) error { return p.Report(t.Context(), w, ReportOptions{}) })
	for _, want := range []string{"Plant rack report", "2 cells of this plant", "Lanes by width", "width, inches", "LENS-01, 1:", "Handlers: how much", "a licensed engineer", "page 1 of "} {
		assert.Contains(t, text, want)
	}
	assert.NotContains(t, text, "Cell MAST", "only routes stop there too")
	var one, two bytes.Buffer
	require.NoError(t, p.Report(t.Context(), &one, ReportOptions{}))
	require.NoError(t, p.Report(t.Context(), &two, ReportOptions{}))
	assert.True(t, bytes.Equal(one.Bytes(), two.Bytes()), "the same bytes")
	assert.Error(t, p.Report(t.Context(), broken{}, ReportOptions{}))
}

// TestRouteSheets: each departure of each shift has its column once, every lane of
// every stop its row, parts are taken in the market's order, and texts keep apart.
func TestRouteSheets(t *testing.T) {
	t.Parallel()
	p := papers(t, "mm")
	d := p.desk()
	taker := planner.NewTaker(p.Facts, p.Plan)
	for _, route := range p.Plan.Routes[:4] {
		picks, ok := taker.Take(route.Route)
		require.True(t, ok)
		leaves := d.routeLeaves(route, picks)
		words := leavesApart(t, d, leaves)
		sheets := 0
		for _, s := range route.Timetable {
			sheets += (len(s.Departures) + roundsOnSheet - 1) / roundsOnSheet
		}
		heads, rows := 0, map[string]int{}
		for _, page := range words {
			heads += page["Route "+route.Route]
			for w, n := range page {
				rows[w] += n
			}
		}
		assert.Equal(t, sheets, heads, route.Route)
		for i, s := range route.Stops {
			assert.Equal(t, sheets, rows[fmt.Sprintf("Stop %d: rack %s", i+1, s.Rack)], route.Route)
		}
		lanes := map[string]int{}
		for _, pick := range picks {
			for _, drop := range pick.Drops {
				lanes[spot(drop.Level, drop.Lane)] += sheets
			}
		}
		for lane, n := range lanes {
			assert.Equal(t, n, rows[lane], "%s %s", route.Route, lane)
		}
	}
	text := textOf(t, func(w io.Writer) error { return p.RouteSheets(w, "A") })
	for _, want := range []string{"Route A", "Take from the market, in this order", "short, skipped: why", "empties back", "sheet 1 of"} {
		assert.Contains(t, text, want)
	}
	require.ErrorIs(t, p.RouteSheets(io.Discard, "nowhere"), ErrNoRoute)
	bare := *p.Plan
	bare.Routes = nil
	require.ErrorIs(t, Papers{Facts: p.Facts, Plan: &bare}.RouteSheets(io.Discard), ErrNoRoute)
}

// TestRouteWithoutTimes: a route that the timetable leaves out still has a sheet.
func TestRouteWithoutTimes(t *testing.T) {
	t.Parallel()
	p := papers(t, "mm")
	r := p.Plan.Routes[0]
	r.Timetable = nil
	leaves := p.desk().routeLeaves(r, nil)
	words := leavesApart(t, p.desk(), leaves)
	whole := ""
	for w := range words[0] {
		whole += w + " "
	}
	assert.Contains(t, whole, "no departure for it")
}
