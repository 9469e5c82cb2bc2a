package main

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"lanewright/planner/finding"
)

// shown is how many findings of one code people get to read; JSON has all.
const shown = 50

// writeFindings lists findings for people, one code after the other in the
// order of the list: the place, what is wrong, what was expected, and how to
// repair it.
func writeFindings(w io.Writer, list finding.List) {
	for _, group := range byCode(list) {
		first := group[0]
		fmt.Fprintf(w, "%s %s (%d)\n", first.Severity, first.Code, len(group))
		for i, f := range group[:min(len(group), shown)] {
			fmt.Fprintf(w, "  %s: %s\n", where(f.Origin), f.Summary)
			last := i+1 == min(len(group), shown)
			if more := advice(f); more != "" && (last || advice(group[i+1]) != more) {
				fmt.Fprintf(w, "    %s\n", wrap(more, "    "))
			}
		}
		if more := len(group) - shown; more > 0 {
			fmt.Fprintf(w, "  and %d more of this code; --json lists all\n", more)
		}
		fmt.Fprintln(w)
	}
}

// advice is what was expected and how to repair it; findings that share it
// show it once.
func advice(f finding.Finding) string { return strings.TrimSpace(f.Detail + " " + f.Remedy) }

// byCode splits a list into groups of one severity and code, in the order in
// which each first appears.
func byCode(list finding.List) []finding.List {
	type key struct {
		severity finding.Severity
		code     string
	}
	var groups []finding.List
	at := map[key]int{}
	for _, f := range list {
		k := key{f.Severity, f.Code}
		i, ok := at[k]
		if !ok {
			i = len(groups)
			at[k] = i
			groups = append(groups, nil)
		}
		groups[i] = append(groups[i], f)
	}
	return groups
}

func where(o finding.Origin) string {
	if o.IsZero() {
		return "the whole plant"
	}
	return o.String()
}

// severities returns "2 errors, 1 warning, 0 notes".
func severities(list finding.List) string {
	return fmt.Sprintf("%s, %s, %s",
		plural(list.Count(finding.Error), "error"), plural(list.Count(finding.Warning), "warning"), plural(list.Count(finding.Note), "note"))
}

func plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// errorsOf returns the findings that are errors.
func errorsOf(list finding.List) finding.List {
	var errs finding.List
	for _, f := range list {
		if f.Severity == finding.Error {
			errs = append(errs, f)
		}
	}
	return errs
}

// wrap breaks text into lines of a readable width, the later ones indented.
func wrap(text, indent string) string {
	const width = 92
	var b strings.Builder
	line := 0
	for i, word := range strings.Fields(text) {
		switch {
		case i == 0:
		case line+1+len(word) > width:
			b.WriteString("\n" + indent)
			line = 0
		default:
			b.WriteByte(' ')
			line++
		}
		b.WriteString(word)
		line += len(word)
	}
	return b.String()
}

// table writes rows in columns as wide as their widest value.
func table(w io.Writer, rows [][]string) {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	for _, row := range rows {
		fmt.Fprintln(t, strings.Join(row, "\t"))
	}
	_ = t.Flush()
}
