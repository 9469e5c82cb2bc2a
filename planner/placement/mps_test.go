package placement

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/plant"
)

// program is what a reader of MPS makes of a text.
type program struct {
	name, objective string
	senses          map[string]string
	values          map[[2]string]float64
	limits, upper   map[string]float64
	columns         []string
	integer         map[string]bool
}

// readMPS is a small reader of free MPS.
func readMPS(t *testing.T, text string) program {
	t.Helper()
	p := program{senses: map[string]string{}, values: map[[2]string]float64{}, limits: map[string]float64{}, upper: map[string]float64{}, integer: map[string]bool{}}
	section, whole := "", false
	for line := range strings.Lines(text) {
		f := strings.Fields(line)
		switch {
		case strings.HasPrefix(line, "*"):
			continue
		case !strings.HasPrefix(line, " "):
			if section = f[0]; section == "NAME" {
				p.name = f[1]
			}
		case section == "ROWS" && f[0] == "N":
			p.objective = f[1]
		case section == "ROWS":
			assert.NotContains(t, p.senses, f[1])
			p.senses[f[1]] = f[0]
		case section == "COLUMNS" && f[1] == "'MARKER'":
			whole = f[2] == "'INTORG'"
		case section == "COLUMNS":
			if len(p.columns) == 0 || p.columns[len(p.columns)-1] != f[0] {
				p.columns = append(p.columns, f[0])
			}
			p.integer[f[0]] = whole
			assert.NotContains(t, p.values, [2]string{f[1], f[0]})
			p.values[[2]string{f[1], f[0]}] = number(t, f[2])
		case section == "RHS":
			p.limits[f[1]] = number(t, f[2])
		case section == "BOUNDS":
			require.Equal(t, "UP", f[0])
			p.upper[f[2]] = number(t, f[3])
		}
	}
	require.Equal(t, "ENDATA", section)
	return p
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	require.NoError(t, err)
	return v
}

func mpsOf(t *testing.T, m Model) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, m.WriteMPS(&b))
	return b.String()
}

// What was written reads back as it was, names are names, and neither the order
// of rows nor chance changes a byte.
func TestMPSReadsBack(t *testing.T) {
	t.Parallel()
	for seed := range uint64(60) {
		d := seeded(seed)
		in := made(d, smallRecipe(d))
		goal := ModelGoals()[seed%4]
		most := ModelLimits{Unplaced: 3, Cost: 4000.25, Splits: NoLimit}
		m := modelOf(t, in, goal, most)
		text := mpsOf(t, m)
		assert.Equal(t, text, mpsOf(t, modelOf(t, shuffled(in, seed), goal, most)), "seed %d: order of rows", seed)
		p := readMPS(t, text)
		require.Len(t, p.columns, len(m.Columns))
		for i, c := range m.Columns {
			assert.Equal(t, c.Name, p.columns[i])
			assert.InDelta(t, c.Upper, p.upper[c.Name], 0)
			assert.Equal(t, c.Integer, p.integer[c.Name])
		}
		rows := append([]ModelRow{{Name: p.objective, Terms: m.Objective}}, m.Rows...)
		terms := 0
		for _, r := range rows {
			if r.Name != p.objective {
				assert.Equal(t, string(r.Sense), p.senses[r.Name])
				terms += len(r.Terms)
			}
			assert.InDelta(t, r.Limit, p.limits[r.Name], 0)
			for _, x := range r.Terms {
				assert.InDelta(t, x.Value, p.values[[2]string{r.Name, m.Columns[x.Column].Name}], 0)
			}
		}
		// The objective's row has every column, if only with 0.
		assert.Len(t, p.values, terms+len(m.Columns))
		assert.Len(t, p.senses, len(m.Rows))
	}
}

// Codes that differ only in what a name may not have keep names of their own,
// and the notes say whose they are.
func TestNamesOfOddCodes(t *testing.T) {
	t.Parallel()
	s := newSmall(3, 3)
	long := strings.Repeat("x", 300)
	codes := []plant.PartCode{"A B", "A_B", "A.B", "a.b", "ä ö", "é_é", plant.PartCode(long + "1"), plant.PartCode(long + "2"), "*", "'MARKER'"}
	first := s.loops[0]
	s.loops = nil
	for _, code := range codes {
		l := first
		l.Part = code
		s.loops = append(s.loops, l)
	}
	in := s.input()
	m := modelOf(t, in, GoalEffort, noLimits())
	seen := map[string]bool{}
	for _, c := range m.Columns {
		assert.False(t, seen[strings.ToLower(c.Name)], c.Name)
		seen[strings.ToLower(c.Name)] = true
		assert.LessOrEqual(t, len(c.Name), 160)
		assert.Regexp(t, `^[nxyszueo](_[A-Za-z0-9.-]+){1,6}$`, c.Name)
	}
	notes := strings.Join(m.Notes, "\n")
	for _, code := range codes {
		assert.Contains(t, notes, fmt.Sprintf("part %q", string(code)))
	}
	assert.Len(t, readMPS(t, mpsOf(t, m)).columns, len(m.Columns))
}
