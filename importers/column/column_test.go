package column

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// plainUnit takes a unit in brackets.
func plainUnit(heading string) (name, unit string) {
	name, unit, _ = strings.Cut(heading, " (")
	return name, strings.TrimSuffix(unit, ")")
}

func TestRecognise(t *testing.T) {
	t.Parallel()
	parts, _ := sheetNamed(Parts)
	m := NewLexicon(parts).Recognise([]string{"PART  NUMBER", "", "Weight (lb)", "Qty/Box", "Container", "Colour", "Part", "std. pack"}, plainUnit)
	assert.Equal(t, map[string]int{"Part": 6, "Piece mass": 2, "Standard pack": 3, "Container": 4}, m.At, "the canonical name counts before a synonym")
	assert.Equal(t, map[string]string{"Piece mass": "lb"}, m.Unit)
	assert.Equal(t, []int{5}, m.Unknown)
	assert.Equal(t, map[int]string{0: "Part", 7: "Standard pack"}, m.Repeated)
	assert.Empty(t, m.Missing(parts))
	assert.Equal(t, []string{"Part", "Container", "Standard pack"}, Match{}.Missing(parts))

	products, _ := sheetNamed(Products)
	lastWord := func(h string) (name, unit string) { i := strings.LastIndex(h, " "); return h[:max(i, 0)], h[i+1:] }
	assert.Empty(t, NewLexicon(products).Recognise([]string{"Units per day"}, lastWord).Unit, "a name is not taken apart")
}

func sheetNamed(name string) (Sheet, bool) {
	for _, s := range Sheets() {
		if s.Named(name) {
			return s, true
		}
	}
	return Sheet{}, false
}

func TestSheetsAreFoundByName(t *testing.T) {
	t.Parallel()
	for name, want := range map[string]string{"Rack types": RackTypes, "RACK_TYPES": RackTypes, "rack-types": RackTypes, "Bill of materials": Usage, "bins": Containers} {
		s, ok := sheetNamed(name)
		assert.True(t, ok, name)
		assert.Equal(t, want, s.Name)
	}
	_, ok := sheetNamed("Sheet1")
	assert.False(t, ok)
}

// A heading must never mean two columns of one sheet, nor a name two sheets.
func TestNamesAreUnambiguous(t *testing.T) {
	t.Parallel()
	names := map[string]string{}
	for _, s := range Sheets() {
		for _, n := range slices.Concat([]string{s.Name}, s.Synonyms, translations("", s.Name)) {
			other, taken := names[Fold(n)]
			assert.False(t, taken && other != s.Name, "%s names %s and %s", n, s.Name, other)
			names[Fold(n)] = s.Name
		}
	}
	for _, s := range append(Sheets(), FlatTable(), Settings()) {
		headings := map[string]string{}
		for _, c := range s.Columns {
			for _, h := range slices.Concat([]string{c.Field}, c.Synonyms, translations(s.Name, c.Field)) {
				other, taken := headings[Fold(h)]
				assert.False(t, taken && other != c.Field, "in %s the heading %s means %s and %s", s.Name, h, other, c.Field)
				headings[Fold(h)] = c.Field
			}
		}
	}
}

// A word that is asked about must not be known as one column.
func TestDoubtsAreNoSynonyms(t *testing.T) {
	t.Parallel()
	for _, s := range append(Sheets(), FlatTable()) {
		l := NewLexicon(s)
		for name, fields := range l.doubts {
			for _, f := range fields {
				_, ok := s.Column(f)
				assert.True(t, ok, "%s has no column %s", s.Name, f)
			}
			h := NewHeading(name, plainUnit)
			assert.False(t, l.Knows(h), "in %s %s is known", s.Name, name)
			assert.Equal(t, fields, l.Candidates(h, func(string) bool { return true }))
		}
	}
}

func TestHeadingsOfFourLanguages(t *testing.T) {
	t.Parallel()
	l := NewLexicon(FlatTable())
	for heading, want := range map[string]string{
		"Teile-Nr.": "Part", "Behälter": "Container", "BEHAELTER": "Container", "Stk. je KLT": "Standard pack", "Stück/Behälter": "Standard pack", "Länge (mm)": "Length", "Stückgewicht (kg)": "Piece mass",
		"Nº de pieza": "Part", "Puesto": "Station", "Piezas por hora": "Pieces per hour", "Línea": "Cell", "Pzas/caja": "Standard pack", "Peso unitario": "Piece mass",
		"N° pièce": "Part", "Bac": "Container", "Pièces par bac": "Standard pack", "Poste de travail": "Station", "Hauteur (mm)": "Height", "Qté / bac": "Standard pack",
		"Part #": "Part", "PartNo": "Part", "Qty/Container": "Standard pack", "Pcs per hr": "Pieces per hour", "Lgth (in)": "Length",
	} {
		m := l.Recognise([]string{heading}, plainUnit)
		_, ok := m.At[want]
		assert.True(t, ok, "%s is not %s but %v", heading, want, m.At)
	}
	for _, heading := range []string{"Menge", "Verbrauch", "Bemerkung", "Colour", "A", "de la"} {
		assert.Empty(t, l.Recognise([]string{heading}, plainUnit).At, heading)
	}
}

func TestNearest(t *testing.T) {
	t.Parallel()
	names := []string{"Refill interval", "Response time", "Service level", "TRAY"}
	for text, want := range map[string]string{"refil intervall": "Refill interval", "Respnose time": "Response time", "TRAI": "TRAY", "service-levels": "Service level", "Colour": "", "T": "", "": ""} {
		got, ok := Nearest(text, names)
		assert.Equal(t, want, got, text)
		assert.Equal(t, want != "", ok, text)
	}
}

func TestDistance(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		a, b string
		want int
	}{{"", "", 0}, {"a", "", 1}, {"lane", "lnae", 1}, {"kitten", "sitting", 3}, {"rack", "racks", 1}, {"abc", "xyz", 3}} {
		assert.Equal(t, c.want, Distance(c.a, c.b, 100), c.a+" "+c.b)
	}
	assert.Equal(t, 2, Distance("kitten", "sitting", 2), "counting stops at the limit")
}

func TestDistanceIsOne(t *testing.T) {
	t.Parallel()
	word := rapid.StringMatching(`[a-d]{0,8}`)
	rapid.Check(t, func(t *rapid.T) {
		a, b := word.Draw(t, "a"), word.Draw(t, "b")
		d := Distance(a, b, 100)
		if d != Distance(b, a, 100) || (d == 0) != (a == b) || d > max(len(a), len(b)) {
			t.Fatalf("distance of %q and %q is %d", a, b, d)
		}
	})
}
