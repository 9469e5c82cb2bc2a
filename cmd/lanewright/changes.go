package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"lanewright/importers"
	"lanewright/importers/export"
	"lanewright/importers/mapping"
	"lanewright/planner/archive"
	"lanewright/planner/plant"
)

// learn adds what the database knows about a plant's files: its mappings, and
// the revision that the files come onto.
func (s *store) learn(ctx context.Context, o importOptions, known *importers.Options) error {
	stored, err := s.Mappings(ctx, o.plant)
	if err != nil {
		return err
	}
	for _, m := range stored {
		if parsed, err := mapping.Parse(m.Text); err == nil {
			known.Known = append(known.Known, parsed)
		}
	}
	if o.onto == "" {
		return nil
	}
	number, err := strconv.Atoi(o.onto)
	switch {
	case o.onto == "latest":
		number = 0
	case err != nil || number < 1:
		return usagef("--onto %q: expected the number of a revision, or latest", o.onto)
	}
	facts, _, rev, err := s.LoadPlant(ctx, o.plant, number)
	if errors.Is(err, archive.ErrNotFound) {
		return usagef("--onto %s: there is no such revision of %q", o.onto, o.plant)
	}
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if err := export.WriteZip(&b, export.Workbook(facts)); err != nil {
		return err
	}
	known.Onto = &importers.Base{Name: fmt.Sprintf("revision %d", rev.Number), Data: b.Bytes()}
	return nil
}

// writeChanges shows what facts would change against the latest revision, and
// returns its number; of a plant that has none, nothing and 0.
func (p *program) writeChanges(ctx context.Context, s *store, name string, next *plant.Plant) (against int, err error) {
	before, _, rev, err := s.LoadPlant(ctx, name, 0)
	if errors.Is(err, archive.ErrNotFound) {
		return 0, nil
	}
	if err != nil {
		return 0, err
	}
	list := export.Compare(before, next)
	if len(list) == 0 {
		fmt.Fprintf(p.out, "nothing differs from revision %d\n", rev.Number)
		return rev.Number, nil
	}
	fmt.Fprintf(p.out, "against revision %d:\n", rev.Number)
	for len(list) > 0 {
		n := 1
		for n < len(list) && list[n].Sheet == list[0].Sheet {
			n++
		}
		writeSheetChanges(p.out, list[:n])
		list = list[n:]
	}
	return rev.Number, nil
}

// writeSheetChanges shows what differs in one sheet: counts, then at most fifty
// rows of each kind.
func writeSheetChanges(w io.Writer, list []export.Change) {
	counts := map[export.Changed]int{}
	for _, c := range list {
		counts[c.What]++
	}
	fmt.Fprintf(w, "  %s: %d added, %d removed, %d changed\n", list[0].Sheet, counts[export.Added], counts[export.Removed], counts[export.Altered])
	told := map[export.Changed]int{}
	for _, c := range list {
		if told[c.What]++; told[c.What] <= shown {
			fmt.Fprintf(w, "    %s %s%s\n", c.What, c.Key, differences(c.Fields))
		}
	}
	for _, what := range []export.Changed{export.Added, export.Removed, export.Altered} {
		if more := counts[what] - shown; more > 0 {
			fmt.Fprintf(w, "    and %d more %s\n", more, what)
		}
	}
}

func differences(fields []export.FieldChange) string {
	var list []string
	for _, f := range fields {
		list = append(list, fmt.Sprintf("%s %q -> %q", f.Column, f.Old, f.New))
	}
	if len(list) == 0 {
		return ""
	}
	return ": " + strings.Join(list, ", ")
}
