package importers

import (
	"fmt"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"

	"lanewright/planner/finding"
)

// Codes of findings about how codes are written.
const (
	CodeLookAlike  = "codes.look-alike"
	CodeOuterSpace = "codes.outer-space"
	CodeNumber     = "codes.number"
)

// twins are letters of other scripts that look like Latin ones or digits:
// Cyrillic and Greek, both cases.
var twins = twinTable(
	"АaВbСcЕeНhІiЈjКkМmОoРpЅsТtХxУyаaсcеeіiјjоoрpѕsхxуyһh",
	"ΑaΒbΕeΖzΗhΙiΚkΜmΝnΟoΡpΤtΥyΧxοoρpνvαaιiκkυu",
)

func twinTable(pairs ...string) map[rune]rune {
	t := map[rune]rune{}
	for _, list := range pairs {
		runes := []rune(list)
		for i := 0; i+1 < len(runes); i += 2 {
			t[runes[i]] = runes[i+1]
		}
	}
	return t
}

// skeleton is what a code looks like: letters of other scripts as the Latin
// ones that they resemble, full-width forms as plain ones, all hyphens alike.
func skeleton(code string) string {
	if isASCII(code) {
		return foldCode(code)
	}
	return strings.ToLower(strings.Map(func(r rune) rune {
		if twin, ok := twins[r]; ok {
			return twin
		}
		if unicode.Is(unicode.Pd, r) || r == '−' {
			return '-'
		}
		return r
	}, norm.NFKC.String(foldCode(code))))
}

// isASCII reports whether a code can not be taken for another one's twin.
func isASCII(s string) bool {
	return strings.IndexFunc(s, func(r rune) bool { return r > unicode.MaxASCII }) < 0
}

// compareLooks warns of a code that looks like another one of its kind and is
// not, or that mixes letters of two scripts.
func (b *codebook) compareLooks(e *entry, s slot, scope string) {
	key := scoped{scope, skeleton(e.code)}
	plain := isASCII(e.code) // then b.entries has it under the same key
	other := b.looks[key]
	if other == nil && !plain {
		other = b.entries[key]
	}
	switch {
	case other == nil && !plain:
		b.looks[key] = e
	case other != nil && other != e:
		b.warnOfLooks(s, fmt.Sprintf("The %s code %q looks like %q but is another one", b.kind, e.code, other.code), other)
		return
	}
	if !plain && mixesScripts(e.code) {
		b.warnOfLooks(s, fmt.Sprintf("The %s code %q mixes letters of two scripts", b.kind, e.code), nil)
	}
}

func (b *codebook) warnOfLooks(s slot, summary string, other *entry) {
	f := finding.Finding{
		Severity: finding.Warning, Code: CodeLookAlike, Origin: s.origin(), Subject: s.row.subject(), Summary: summary,
		Detail: "Letters of another script, full-width digits or other hyphens look the same and are not. The codes were kept apart.",
		Remedy: "If one thing is meant, type the code anew in both places.",
	}
	if other != nil {
		f.Related = []finding.Origin{other.row.origin()}
	}
	b.rd.say(f)
}

// mixesScripts reports whether a code has Latin letters beside ones of another
// script that look like Latin ones.
func mixesScripts(code string) bool {
	latin, twin := false, false
	for _, r := range code {
		_, is := twins[r]
		twin = twin || is
		latin = latin || unicode.Is(unicode.Latin, r)
	}
	return latin && twin
}

// noteOuterSpace says that space around a code was cut.
func (b *codebook) noteOuterSpace(e *entry, s slot) {
	if e.raw == e.code || e.code == "" {
		return
	}
	e.row.t.rd.say(finding.Finding{
		Severity: finding.Note, Code: CodeOuterSpace, Origin: s.origin(), Subject: s.row.subject(),
		Summary: fmt.Sprintf("The %s code %q has space around it, which was cut", b.kind, e.raw),
		Detail:  "Space around a code is no part of it.", Remedy: "Nothing to do.",
	})
}

// shownCodes counts the codes of a column that the sheet holds as numbers.
type shownCodes struct {
	first slot
	n     int
	// fixed is the first one whose format shows more than the number.
	fixed *slot
}

// countNumber takes note of a code that is a number in the sheet.
func (t *table) countNumber(s slot) {
	c := t.asNumbers[s.field]
	if c == nil {
		c = &shownCodes{first: s}
		t.asNumbers[s.field] = c
	}
	c.n++
	if c.fixed == nil && s.cell.Text != s.cell.Raw {
		c.fixed = &s
	}
}

// describeNumbers says which codes are numbers in the sheet, once for each
// column.
func (t *table) describeNumbers() {
	for _, column := range t.kind.Columns {
		c := t.asNumbers[column.Field]
		if c == nil {
			continue
		}
		summary := fmt.Sprintf("%s of column %s are numbers in sheet %q, such as %s", count(c.n, "code"), column.Field, t.sheet.Name, c.first.cell.Text)
		at := c.first
		if c.fixed != nil {
			summary = fmt.Sprintf("%s of column %s are numbers in sheet %q; they were taken as the sheet shows them: %s for %s",
				count(c.n, "code"), column.Field, t.sheet.Name, c.fixed.cell.Text, c.fixed.cell.Raw)
			at = *c.fixed
		}
		t.rd.say(finding.Finding{
			Severity: finding.Note, Code: CodeNumber, Origin: at.origin(), Summary: summary,
			Detail: "A spreadsheet forgets zeros in front and turns 1E5 into 100000 when a code is typed as a number.",
			Remedy: "If codes lack zeros, give the column the format Text and type them again.",
		})
	}
}
