package column

import (
	"slices"
	"sync"
	"unicode/utf8"
)

// Basis says why a heading was taken for a column.
type Basis string

// The reasons, the surest first.
const (
	// Stated: a mapping says so.
	Stated Basis = "stated"
	// Canonical: it is the name that the template has.
	Canonical Basis = "canonical"
	// Synonym: it is a known other name, in one of four languages.
	Synonym Basis = "synonym"
	// Words: word by word it is a known name.
	Words Basis = "words"
)

// Match is what the headings of one row mean for one sheet.
type Match struct {
	// At gives the position of each column that was recognised, by field;
	// Unit the unit its heading names, where it names one; By the reason.
	At   map[string]int
	Unit map[string]string
	By   map[string]Basis
	// Unknown are the positions of headings that mean nothing here.
	Unknown []int
	// Repeated are the positions of headings whose column was already there,
	// with the field they repeat.
	Repeated map[int]string
}

// NewMatch returns a match of nothing.
func NewMatch() Match {
	return Match{At: map[string]int{}, Unit: map[string]string{}, By: map[string]Basis{}, Repeated: map[int]string{}}
}

// Lexicon knows the headings of one sheet. It is made once and used for many
// rows.
type Lexicon struct {
	Sheet                     Sheet
	canonical, synonym, words map[string]string
	// names lists every name with its field, for "did you mean".
	names  []string
	fields map[string]string
	doubts map[string][]string
}

// NewLexicon returns the lexicon of s; of two columns with one synonym the
// first counts, of two with the same words none.
func NewLexicon(s Sheet) *Lexicon {
	l := &Lexicon{
		Sheet: s, canonical: map[string]string{}, synonym: map[string]string{}, words: map[string]string{},
		fields: map[string]string{}, doubts: doubtsOf(s),
	}
	for _, c := range s.Columns {
		l.canonical[Fold(c.Field)] = c.Field
	}
	for _, c := range s.Columns {
		l.learn(c, c.Synonyms)
	}
	for _, c := range s.Columns {
		l.learn(c, translations(s.Name, c.Field))
	}
	return l
}

// lexicons are those of the canonical sheets and of the flat table, settings
// that of the Plant sheet's settings: constant tables, made when first asked
// for.
var (
	lexicons = sync.OnceValue(func() map[string]*Lexicon {
		table := map[string]*Lexicon{}
		for _, s := range append(Sheets(), FlatTable()) {
			table[s.Name] = NewLexicon(s)
		}
		return table
	})
	settings = sync.OnceValue(func() *Lexicon { return NewLexicon(Settings()) })
)

// LexiconOf returns the lexicon of a canonical sheet or the flat table.
func LexiconOf(s Sheet) *Lexicon {
	if l := lexicons()[s.Name]; l != nil {
		return l
	}
	return NewLexicon(s)
}

// SettingsLexicon returns the lexicon of the settings of the Plant sheet.
func SettingsLexicon() *Lexicon { return settings() }

// learn enters the synonyms of a column.
func (l *Lexicon) learn(c Column, synonyms []string) {
	for _, n := range append([]string{c.Field}, synonyms...) {
		if _, taken := l.synonym[Fold(n)]; !taken && l.canonical[Fold(n)] == "" {
			l.synonym[Fold(n)] = c.Field
		}
		if f, taken := l.words[wordsOf(n)]; taken && f != c.Field || wordsOf(n) == "" {
			l.words[wordsOf(n)] = ""
		} else {
			l.words[wordsOf(n)] = c.Field
		}
		if _, taken := l.fields[n]; !taken {
			l.fields[n] = c.Field
			l.names = append(l.names, n)
		}
	}
}

// field looks a heading up for one reason. The whole of a heading goes before
// its name without a unit: "Units per day" has none.
func (l *Lexicon) field(h Heading, by Basis) (field, unit string, ok bool) {
	names := l.canonical
	switch by {
	case Synonym:
		names = l.synonym
	case Words:
		field = l.words[h.words]
		_, doubtful := l.doubts[h.name]
		return field, h.Unit, field != "" && !doubtful
	}
	if field, ok = names[h.whole]; ok {
		if h.name != h.whole {
			return field, "", true
		}
		return field, h.Unit, true
	}
	field, ok = names[h.name]
	return field, h.Unit, ok
}

// Knows reports whether a heading is one of the sheet's.
func (l *Lexicon) Knows(h Heading) bool {
	for _, by := range []Basis{Canonical, Synonym, Words} {
		if _, _, ok := l.field(h, by); ok && !h.IsBlank() {
			return true
		}
	}
	return false
}

// Recognise reads headings. split takes one apart into name and unit, unless
// the whole of it is a name: "Units per day" has no unit. A canonical name
// beats a synonym for the same column, that one a name that is known word by
// word, and the first of two equals counts.
func (l *Lexicon) Recognise(headings []string, split func(string) (name, unit string)) Match {
	taken := make([]Heading, len(headings))
	for i, h := range headings {
		taken[i] = NewHeading(h, split)
	}
	return l.Match(taken)
}

// Match is Recognise for headings that were taken apart before.
func (l *Lexicon) Match(headings []Heading) Match {
	m := NewMatch()
	l.Complete(&m, headings)
	return m
}

// Complete adds to m what it does not know yet of the headings; positions
// that it knows already are left as they are.
func (l *Lexicon) Complete(m *Match, headings []Heading) {
	known := make([]bool, len(headings))
	for _, at := range m.At {
		if at < len(known) {
			known[at] = true
		}
	}
	for _, i := range m.Unknown {
		known[i] = true
	}
	for _, by := range []Basis{Canonical, Synonym, Words} {
		for i, h := range headings {
			if known[i] || h.IsBlank() {
				continue
			}
			if field, unit, ok := l.field(h, by); ok {
				known[i] = true
				m.claim(field, i, unit, by)
			}
		}
	}
	for i, h := range headings {
		if !known[i] && !h.IsBlank() {
			m.Unknown = append(m.Unknown, i)
		}
	}
	slices.Sort(m.Unknown)
}

// claim gives position i to field f unless another position has it.
func (m *Match) claim(f string, i int, unit string, by Basis) {
	if _, taken := m.At[f]; taken {
		m.Repeated[i] = f
		return
	}
	m.State(f, i, unit, by)
}

// State gives position i to field f, whoever had it.
func (m *Match) State(f string, i int, unit string, by Basis) {
	m.At[f], m.By[f] = i, by
	delete(m.Unit, f)
	if unit != "" {
		m.Unit[f] = unit
	}
}

// Missing lists the required fields of s that m lacks, in the order of the
// sheet.
func (m Match) Missing(s Sheet) []string {
	var missing []string
	for _, c := range s.Columns {
		if _, ok := m.At[c.Field]; c.Required && !ok {
			missing = append(missing, c.Field)
		}
	}
	return missing
}

// Candidates are the columns that a heading might mean, when it is certain of
// none: those that a doubtful word stands for, else the one whose name in any
// language is nearest; to a heading of fewer than four letters too many are near.
// Only free columns come into question.
func (l *Lexicon) Candidates(h Heading, free func(field string) bool) []string {
	var list []string
	for _, f := range l.doubts[h.name] {
		if free(f) {
			list = append(list, f)
		}
	}
	if len(list) > 0 || utf8.RuneCountInString(h.name) < 4 {
		return list
	}
	var names []string
	for _, n := range l.names {
		if free(l.fields[n]) {
			names = append(names, n)
		}
	}
	if near, ok := Nearest(h.Name, names); ok {
		return []string{l.fields[near]}
	}
	return nil
}
