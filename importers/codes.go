package importers

import (
	"crypto/sha256"
	"fmt"
	"strings"
	"unicode"

	"lanewright/importers/column"
	"lanewright/planner/finding"
)

// Codes of findings about codes and rows that stand twice.
const (
	CodeDifferInCase = "codes.differ-in-case"
	CodeDuplicate    = "codes.duplicate"
	CodeRepeatedRow  = "rows.repeated"
)

// trim cuts outer space, no-break space and characters that show nothing.
func trim(s string) string {
	return strings.TrimFunc(s, func(r rune) bool { return unicode.IsSpace(r) || r == '\u200b' || r == '\ufeff' })
}

// foldCode makes codes that differ only in case, outer space or the kind of
// their spaces into one.
func foldCode(s string) string {
	return strings.ToLower(strings.ReplaceAll(trim(s), "\u00a0", " "))
}

// codebook knows the codes of one kind of thing.
type codebook struct {
	rd   *reading
	kind string
	// entries are found by scope (the cell of a station, else empty) and
	// folded code.
	entries map[scoped]*entry
	// names lists the codes of each scope, for "did you mean".
	names map[string][]string
	// open books take codes from the rows that name them, because the sheet
	// that would define them is not there.
	open bool
	// home is the sheet that defines the codes; missed counts the rows that
	// name a code while no row of that sheet could be read.
	home   string
	missed int
	// asked counts the names looked for nearby; it is dear work, and after
	// so many the sheet is simply not there.
	asked map[string]string
	// looks finds the entries whose codes are not plain ASCII by what they look
	// like; a plain code looks like itself.
	looks map[scoped]*entry
}

type scoped struct{ scope, code string }

// entry is a code with the row that defined it.
type entry struct {
	// code is the first spelling without outer space, raw the same as the
	// sheet shows it.
	code, raw string
	row       *row
	// out says that the row was left out, so there is no such thing.
	out  bool
	told bool
}

func newCodebook(rd *reading, kind, home string) *codebook {
	return &codebook{rd: rd, kind: kind, home: home, entries: map[scoped]*entry{}, names: map[string][]string{}, asked: map[string]string{}, looks: map[scoped]*entry{}}
}

// name returns the spelling of the code that raw defines or defines again.
func (b *codebook) name(s slot, scope, raw string, out bool) string {
	e, _ := b.define(s, scope, raw, out)
	return e.code
}

// define enters a code; first is false when a row that was not left out has
// defined it before.
func (b *codebook) define(s slot, scope, raw string, out bool) (e *entry, first bool) {
	key := scoped{scope, foldCode(raw)}
	e = b.entries[key]
	if e == nil {
		e = &entry{code: trim(raw), raw: raw, row: s.row, out: out}
		b.entries[key] = e
		b.names[scope] = append(b.names[scope], e.code)
		b.noteOuterSpace(e, s)
		b.compareLooks(e, s, scope)
		return e, true
	}
	b.compare(e, s, raw)
	if e.out && !out {
		e.out, e.row = false, s.row
		return e, true
	}
	return e, false
}

// compare reports, once for each code, that it is spelled in two ways.
func (b *codebook) compare(e *entry, s slot, raw string) {
	if e.raw == raw || e.told {
		return
	}
	e.told = true
	s.row.t.rd.say(finding.Finding{
		Severity: finding.Warning, Code: CodeDifferInCase, Origin: s.origin(), Related: []finding.Origin{e.row.origin()}, Subject: s.row.subject(),
		Summary: fmt.Sprintf("The %s code %q is also written %q; they were taken for one", b.kind, e.raw, raw),
		Detail:  "Codes that differ only in upper and lower case or in space around them are one code; the first spelling is used.",
		Remedy:  "Write the code in one way.",
	})
}

// find returns the entry that raw names, nil when there is none.
func (b *codebook) find(s slot, scope, raw string) *entry {
	e := b.entries[scoped{scope, foldCode(raw)}]
	if e != nil {
		b.compare(e, s, raw)
		return e
	}
	if b.open {
		e, _ = b.define(s, scope, raw, false)
	}
	return e
}

// near returns "Did you mean X? " or nothing.
func (b *codebook) near(scope, raw string) string {
	const enough = 200
	key := scope + "\x00" + foldCode(raw)
	if hint, ok := b.asked[key]; ok || len(b.asked) >= enough {
		return hint
	}
	hint := ""
	if near, ok := column.Nearest(raw, b.names[scope]); ok {
		hint = fmt.Sprintf("Did you mean %q? ", near)
	}
	b.asked[key] = hint
	return hint
}

// fingerprint is half of a SHA-256 sum: chance does not make two alike.
type fingerprint [sha256.Size / 2]byte

// fingerprint stands for the kind of the row and all that it says in known
// columns: the whole text of every row would take more memory than the plant.
func (r *row) fingerprint() (print fingerprint) {
	b := append(make([]byte, 0, 512), r.t.kind.Name...)
	for _, c := range r.t.kind.Columns {
		if s := r.may(c.Field); !s.blank {
			for _, text := range []string{c.Field, trim(s.cell.Text), s.unit} {
				b = append(append(b, 0), text...)
			}
			b = append(b, 1)
		}
	}
	sum := sha256.Sum256(b)
	copy(print[:], sum[:])
	return print
}

// fail leaves the row out with an error; f has no severity, code, origin and
// subject yet.
func (r *row) fail(code, field string, f finding.Finding) {
	r.state = reported
	f.Severity, f.Code, f.Origin, f.Subject = finding.Error, code, r.may(field).origin(), r.subject()
	f.Detail += " The row was left out."
	r.t.rd.say(f)
}

// warn is fail without an error, for rows the plan can do without.
func (r *row) warn(code, field string, f finding.Finding) {
	f.Severity, f.Code, f.Origin, f.Subject = finding.Warning, code, r.may(field).origin(), r.subject()
	r.t.rd.say(f)
}
