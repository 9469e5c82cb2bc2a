package column

// Match is what the headings of one row mean for one sheet.
type Match struct {
	// At gives the position of each column that was recognised, by field;
	// Unit the unit its heading names, where it names one.
	At   map[string]int
	Unit map[string]string
	// Unknown are the positions of headings that mean nothing here.
	Unknown []int
	// Repeated are the positions of headings whose column was already there,
	// with the field they repeat.
	Repeated map[int]string
}

// Lexicon knows the headings of one sheet. It is made once and used for many
// rows.
type Lexicon struct {
	Sheet              Sheet
	canonical, synonym map[string]string
}

// NewLexicon returns the lexicon of s; of two columns with one synonym the
// first counts.
func NewLexicon(s Sheet) *Lexicon {
	l := &Lexicon{Sheet: s, canonical: map[string]string{}, synonym: map[string]string{}}
	for _, c := range s.Columns {
		l.canonical[Fold(c.Field)] = c.Field
	}
	for _, c := range s.Columns {
		for _, n := range c.Synonyms {
			if _, taken := l.synonym[Fold(n)]; !taken {
				l.synonym[Fold(n)] = c.Field
			}
		}
	}
	return l
}

// Recognise reads headings. split takes one apart into name and unit, unless
// the whole of it is a name: "Units per day" has no unit. A canonical name beats a synonym for the same column, and the first of two
// equals counts.
func (l *Lexicon) Recognise(headings []string, split func(string) (name, unit string)) Match {
	m := Match{At: map[string]int{}, Unit: map[string]string{}, Repeated: map[int]string{}}
	known := make([]bool, len(headings))
	for _, names := range []map[string]string{l.canonical, l.synonym} {
		for i, h := range headings {
			if known[i] || Fold(h) == "" {
				continue
			}
			name, unit := split(h)
			field, ok := names[Fold(h)]
			if !ok {
				field, ok = names[Fold(name)]
			} else if Fold(name) != Fold(h) {
				unit = ""
			}
			if known[i] = ok; ok {
				m.claim(field, i, unit)
			}
		}
	}
	for i, h := range headings {
		if !known[i] && Fold(h) != "" {
			m.Unknown = append(m.Unknown, i)
		}
	}
	return m
}

// claim gives position i to field f unless another position has it.
func (m *Match) claim(f string, i int, unit string) {
	if _, taken := m.At[f]; taken {
		m.Repeated[i] = f
		return
	}
	m.At[f] = i
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
