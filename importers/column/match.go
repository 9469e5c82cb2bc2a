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

// Recognise reads headings as those of sheet s. split takes a heading apart
// into name and unit. A canonical name beats a synonym for the same column,
// and the first of two equals counts.
func Recognise(s Sheet, headings []string, split func(string) (name, unit string)) Match {
	m := Match{At: map[string]int{}, Unit: map[string]string{}, Repeated: map[int]string{}}
	canonical, synonym := names(s)
	fields := make([]string, len(headings))
	units := make([]string, len(headings))
	for i, h := range headings {
		if Fold(h) == "" {
			continue
		}
		var name string
		name, units[i] = split(h)
		for _, text := range []string{h, name} {
			if f, ok := canonical[Fold(text)]; ok && fields[i] == "" {
				fields[i] = f
				m.claim(f, i, units[i])
			}
		}
	}
	for i, h := range headings {
		if fields[i] != "" || Fold(h) == "" {
			continue
		}
		name, _ := split(h)
		for _, text := range []string{h, name} {
			if f, ok := synonym[Fold(text)]; ok && fields[i] == "" {
				fields[i] = f
				m.claim(f, i, units[i])
			}
		}
		if fields[i] == "" {
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

// names lists the folded headings of s; of two columns with one synonym the
// first counts.
func names(s Sheet) (canonical, synonym map[string]string) {
	canonical, synonym = map[string]string{}, map[string]string{}
	for _, c := range s.Columns {
		canonical[Fold(c.Field)] = c.Field
	}
	for _, c := range s.Columns {
		for _, n := range c.Synonyms {
			if _, taken := synonym[Fold(n)]; !taken {
				synonym[Fold(n)] = c.Field
			}
		}
	}
	return canonical, synonym
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
