package column

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// Fold reduces a heading to what makes it different from others: letters and
// digits in lower case, accents left away and umlauts written out. "Qty / Box"
// and "QTY_BOX" are the same heading, "Länge" and "LAENGE" too.
func Fold(heading string) string {
	if plain(heading) {
		return strings.Map(foldRune, heading)
	}
	var b strings.Builder
	for _, r := range norm.NFC.String(heading) {
		if long, ok := written[unicode.ToLower(r)]; ok {
			b.WriteString(long)
			continue
		}
		for _, base := range norm.NFD.String(string(r)) {
			if r := foldRune(base); r >= 0 {
				b.WriteRune(r)
			}
		}
	}
	return b.String()
}

// written are the letters that are written out with two.
var written = map[rune]string{'ä': "ae", 'ö': "oe", 'ü': "ue", 'ß': "ss", 'æ': "ae", 'œ': "oe", 'ø': "oe", 'å': "aa"}

func foldRune(r rune) rune {
	if unicode.IsLetter(r) || unicode.IsDigit(r) {
		return unicode.ToLower(r)
	}
	return -1
}

func plain(s string) bool {
	for i := range len(s) {
		if s[i] >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

// Nearest returns the one of names that text was probably meant to be: the
// fewest letters changed, added, left out or swapped, at most a quarter of
// them (at least one); of equals the first. It is for "did you mean", never
// for a decision.
func Nearest(text string, names []string) (name string, ok bool) {
	folded := Fold(text)
	best := max(1, utf8.RuneCountInString(folded)/4) + 1
	for _, n := range names {
		if d := Distance(folded, Fold(n), best); d < best {
			name, best = n, d
		}
	}
	return name, name != ""
}

// Distance counts the letters to change, add, leave out or swap with their
// neighbour to turn a into b (optimal string alignment). It stops counting at
// limit and then returns limit.
func Distance(a, b string, limit int) int {
	s, t := []rune(a), []rune(b)
	if max(len(s)-len(t), len(t)-len(s)) >= limit {
		return limit
	}
	before, last, next := make([]int, len(t)+1), make([]int, len(t)+1), make([]int, len(t)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(s); i++ {
		next[0] = i
		least := i
		for j := 1; j <= len(t); j++ {
			cost := 1
			if s[i-1] == t[j-1] {
				cost = 0
			}
			next[j] = min(last[j]+1, next[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && s[i-1] == t[j-2] && s[i-2] == t[j-1] {
				next[j] = min(next[j], before[j-2]+1)
			}
			least = min(least, next[j])
		}
		if least >= limit {
			return limit
		}
		before, last, next = last, next, before
	}
	return min(last[len(t)], limit)
}
