package column

import "testing"

// FuzzHeading: no heading breaks the lexicons, and what is known stays known
// in capitals and with other marks between its words.
func FuzzHeading(f *testing.F) {
	for _, s := range []string{"Part No.", "Länge (mm)", "Stk./KLT", "N° pièce", "", "///", "\xff", "QTY_BOX", "ﬁ", "İ"} {
		f.Add(s)
	}
	flat := LexiconOf(FlatTable())
	f.Fuzz(func(t *testing.T, s string) {
		h := NewHeading(s, plainUnit)
		known := flat.Knows(h)
		m := flat.Match([]Heading{h})
		if known != (len(m.At) == 1) {
			t.Fatalf("%q is known %v and matched %v", s, known, m.At)
		}
		flat.Candidates(h, func(string) bool { return true })
		if Fold(Fold(s)) != Fold(s) {
			t.Fatalf("%q folds to %q, that to %q", s, Fold(s), Fold(Fold(s)))
		}
	})
}
