package plot_test

import (
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api/plot"
	"lanewright/planner/simulation"
)

// picture is what a test asks of an SVG: its texts and how many elements each
// class has.
type picture struct {
	source string
	texts  map[string][]string
	marks  map[string]int
	paths  map[string]string
}

// look reads an SVG as XML; it fails where that is not well formed.
func look(t *testing.T, source string) picture {
	t.Helper()
	p := picture{source, map[string][]string{}, map[string]int{}, map[string]string{}}
	d := xml.NewDecoder(strings.NewReader(source))
	class := ""
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return p
		}
		require.NoError(t, err)
		switch e := token.(type) {
		case xml.StartElement:
			class = e.Name.Local
			for _, a := range e.Attr {
				switch a.Name.Local {
				case "class":
					class = a.Value
				case "d":
					p.paths[class] = a.Value
				}
			}
			p.marks[class]++
		case xml.CharData:
			if s := strings.TrimSpace(string(e)); s != "" {
				p.texts[class] = append(p.texts[class], s)
			}
		}
	}
}

func drawTrace(t *testing.T, trace simulation.Trace, from, to time.Duration) picture {
	t.Helper()
	var b strings.Builder
	require.NoError(t, plot.Trace(&b, trace, plot.Window{From: monday().Add(from), To: monday().Add(to)}))
	return look(t, b.String())
}

func count(list []simulation.Point, match func(simulation.Point) bool) int {
	n := 0
	for _, p := range list {
		if match(p) {
			n++
		}
	}
	return n
}

func TestTraceShowsEveryRoundAndShortage(t *testing.T) {
	t.Parallel()
	trace := sample()
	p := drawTrace(t, trace, 6*time.Hour, 22*time.Hour)
	title := "Part LENS <70> at station 10 of cell OPTIC: pieces on hand"
	assert.Equal(t, []string{title, title}, p.texts["title"], "one to be read aloud, one to be seen")
	assert.Contains(t, p.texts["desc"][0], "runs short 1 times")
	visit := func(took bool) func(simulation.Point) bool {
		return func(p simulation.Point) bool { return p.Event == simulation.EventVisit && took == (p.Taken > 0) }
	}
	assert.Equal(t, count(trace.Points, visit(true)), p.marks["taken"])
	assert.Equal(t, count(trace.Points, visit(false)), p.marks["taken-none"])
	assert.Equal(t, count(trace.Points, func(p simulation.Point) bool { return p.Left > 0 }), p.marks["left"])
	assert.Equal(t, count(trace.Points, func(p simulation.Point) bool { return p.Brought > 0 }), p.marks["brought"])
	assert.Equal(t, 1, p.marks["short"])
	assert.Equal(t, []string{"short 59 min"}, p.texts["short-label"])
	assert.Equal(t, 2, p.marks["pause"], "a break in each shift")
	assert.Equal(t, "06:00", p.texts["tick-x"][0])
	assert.Equal(t, []string{"Mon 11 Jan"}, p.texts["day"])
	assert.Equal(t, []string{"0", "20", "40", "60", "80", "100", "120", "140"}, p.texts["tick-y"])
}

// TestTraceShadesNights: hatching stands for shortage in the
// file too, and no curve leaves the picture.
func TestTraceShadesNights(t *testing.T) {
	t.Parallel()
	p := drawTrace(t, sample(), 0, 48*time.Hour)
	assert.Equal(t, 4, p.marks["pause"], "the night before, two breaks, and all after")
	assert.Equal(t, []string{"Mon 11 Jan", "Tue 12 Jan", "Wed 13 Jan"}, p.texts["day"])
	assert.Contains(t, p.source, `fill="url(#h)"`)
	assert.NotContains(t, p.paths["onhand"], "-", "nothing is left of or above the picture")
	assert.NotContains(t, p.source, "NaN")
}

// TestTraceBeginsInTheMiddle: a window after the beginning starts with the state it
// finds, also in a shortage.
func TestTraceBeginsInTheMiddle(t *testing.T) {
	t.Parallel()
	p := drawTrace(t, sample(), 16*time.Hour+30*time.Minute, 18*time.Hour)
	assert.True(t, strings.HasPrefix(p.paths["onhand"], "M100 "), "%s", p.paths["onhand"])
	assert.Equal(t, []string{"short 50 min"}, p.texts["short-label"])
	calm := drawTrace(t, sample(), 10*time.Hour, 12*time.Hour)
	assert.Zero(t, calm.marks["short"])
	assert.NotContains(t, calm.texts["row"], "signals left", "no round left any")
}

func TestTraceWithNothingInIt(t *testing.T) {
	t.Parallel()
	p := drawTrace(t, simulation.Trace{Zone: "no such zone"}, 0, 0)
	assert.Zero(t, p.marks["onhand"])
	assert.NotContains(t, p.source, "NaN")
}

// TestTraceOverAChangeOfClocks: the hour that is skipped has no tick, the ticks
// around it do.
func TestTraceOverAChangeOfClocks(t *testing.T) {
	t.Parallel()
	zone, err := time.LoadLocation("Europe/Berlin")
	require.NoError(t, err)
	from := time.Date(2027, 3, 28, 0, 0, 0, 0, zone)
	var b strings.Builder
	require.NoError(t, plot.Trace(&b, simulation.Trace{Zone: "Europe/Berlin"}, plot.Window{From: from, To: from.Add(6 * time.Hour)}))
	ticks := look(t, b.String()).texts["tick-x"]
	assert.Contains(t, ticks, "01:30")
	assert.Contains(t, ticks, "03:00")
	assert.NotContains(t, ticks, "02:30")
}

// broken is a file that takes nothing.
type broken struct{}

func (broken) Write([]byte) (int, error) { return 0, io.ErrShortWrite }

func TestAWriterThatFailsIsSaid(t *testing.T) {
	t.Parallel()
	require.ErrorIs(t, plot.Trace(broken{}, sample(), plot.Window{From: monday(), To: monday().Add(time.Hour)}), io.ErrShortWrite)
	require.ErrorIs(t, plot.Choices(broken{}, nil), io.ErrShortWrite)
}
