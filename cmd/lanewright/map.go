package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"lanewright/api/wire"
	"lanewright/importers"
	"lanewright/importers/mapping"
	"lanewright/importers/sheet"
)

// mapOptions are the options of the map command.
type mapOptions struct {
	mapping, out, encoding string
	answers                []string
	json, quiet            bool
}

func (p *program) mapCommand() *cobra.Command {
	var o mapOptions
	cmd := &cobra.Command{
		Use:   "map FILE",
		Short: "Propose what the columns of a plant's own sheets mean",
		Long: `map reads a file and writes a mapping: which sheet is what, where its headings stand,
what each of them means, the decimal mark and the encoding. What is not certain stands
behind a question mark: answer it in the text, or with --answer. The first rows are
shown as they would be understood. The exit code is 1 while something is asked.

check, plan and import take the mapping with --mapping; import keeps it, and uses it by
itself for later files with the same headings.`,
		Example: `  lanewright map parts.csv --out parts.map
  lanewright map parts.csv --answer 'Menge = Standard pack' --answer 'decimal = comma' --out parts.map
  lanewright map old.csv --encoding windows-1252 --out old.map
  lanewright import parts.csv --plant "North works" --mapping parts.map`,
		Args: oneFile,
		RunE: p.run(func(ctx context.Context, args []string) error { return p.propose(ctx, args[0], o) }),
	}
	flags := cmd.Flags()
	flags.StringVar(&o.mapping, "mapping", "", "go on from this mapping")
	flags.StringVar(&o.out, "out", "-", "write the mapping to this file, - for standard output")
	flags.StringVar(&o.encoding, "encoding", "", "encoding of a text that is not UTF-8: "+strings.Join(sheet.Encodings(), ", "))
	flags.StringArrayVar(&o.answers, "answer", nil, "what a heading means, as 'HEADING = COLUMN' or 'HEADING = COLUMN in UNIT'; 'decimal = comma'")
	flags.BoolVar(&o.quiet, "no-preview", false, "do not show the first rows")
	flags.BoolVar(&o.json, "json", false, "print mapping, questions and first rows as one JSON document")
	return cmd
}

// propose writes the mapping of a file.
func (p *program) propose(ctx context.Context, name string, o mapOptions) error {
	given, err := o.given()
	if err != nil {
		return err
	}
	read, err := p.readWith(ctx, []string{name}, importers.Options{Mapping: given})
	if err != nil {
		return stopped(ctx, err)
	}
	if read.Mapping == nil {
		writeFindings(p.err, read.Findings)
		return errInput
	}
	if len(o.answers) > 0 {
		if err := answerAll(read.Mapping, o.answers); err != nil {
			return err
		}
		if read, err = p.readWith(ctx, []string{name}, importers.Options{Mapping: read.Mapping}); err != nil {
			return stopped(ctx, err)
		}
	}
	return p.writeMapping(read, o)
}

// given is the mapping to go on from: a file's, or one with the encoding only.
func (o mapOptions) given() (*mapping.Mapping, error) {
	var m *mapping.Mapping
	if o.mapping != "" {
		var err error
		if m, err = loadMapping(o.mapping); err != nil {
			return nil, err
		}
	}
	if o.encoding == "" {
		return m, nil
	}
	stated, err := mapping.Parse("lanewright mapping 1\nencoding: " + o.encoding)
	if err != nil {
		return nil, usagef("--encoding %s: it is none of %s", o.encoding, strings.Join(sheet.Encodings(), ", "))
	}
	if m == nil {
		return stated, nil
	}
	m.Encoding = stated.Encoding
	return m, nil
}

// answerAll takes answers such as "Menge = Standard pack in mm".
func answerAll(m *mapping.Mapping, answers []string) error {
	for _, text := range answers {
		heading, meaning, ok := strings.Cut(text, "=")
		if !ok {
			return usagef("--answer %q: expected HEADING = COLUMN", text)
		}
		field, unit := strings.TrimSpace(meaning), ""
		if i := strings.LastIndex(field, " in "); i > 0 {
			field, unit = field[:i], strings.TrimSpace(field[i+len(" in "):])
		}
		if err := m.Answer(strings.TrimSpace(heading), field, unit); err != nil {
			return usagef("--answer %q: %w", text, err)
		}
	}
	return nil
}

func (p *program) writeMapping(read *importers.Result, o mapOptions) error {
	open := read.Mapping.Questions()
	if o.json {
		if err := p.writeJSON(wire.NewProposal(read, nil)); err != nil {
			return err
		}
	} else {
		if !o.quiet {
			writePreviews(p.err, read.Preview)
		}
		if err := p.writeFile(o.out, text(read.Mapping.Text())); err != nil {
			return err
		}
	}
	for _, q := range open {
		p.say("asked: %s", q)
	}
	if len(open) > 0 {
		p.say("answer with --answer %q, or behind the question mark in the mapping", exampleAnswer(read.Mapping))
		return errInput
	}
	return nil
}

// exampleAnswer is how the first question could be answered.
func exampleAnswer(m *mapping.Mapping) string {
	for _, t := range m.Tables {
		for _, c := range t.Columns {
			if c.Ask && len(c.Candidates) > 0 && !m.AskDecimal {
				return c.Heading + " = " + c.Candidates[0]
			}
		}
	}
	return "decimal = comma"
}

// writePreviews shows the first rows of each table as they are understood.
func writePreviews(w io.Writer, list []importers.Preview) {
	for _, t := range list {
		fmt.Fprintf(w, "%s, read as %s\n", t.Sheet, t.Kind)
		rows := [][]string{append([]string{"row"}, t.Headings...), append([]string{""}, t.Fields...)}
		for _, r := range t.Rows {
			rows = append(rows, append(append([]string{fmt.Sprint(r.Number)}, r.Values...), marked(r.State)...))
		}
		table(w, rows)
		fmt.Fprintln(w)
	}
}

// marked names the state of a row unless it was used.
func marked(state string) []string {
	if state == "used" {
		return nil
	}
	return []string{state}
}

// mappingFlag adds the option that names a mapping.
func mappingFlag(flags *pflag.FlagSet, name *string) {
	flags.StringVar(name, "mapping", "", "mapping file that says what the columns mean (lanewright map writes one)")
}

// loadMapping reads a mapping from a file.
func loadMapping(name string) (*mapping.Mapping, error) {
	data, err := os.ReadFile(name)
	if err != nil {
		return nil, fmt.Errorf("read the mapping: %w", err)
	}
	m, err := mapping.Parse(string(data))
	if err != nil {
		return nil, usagef("--mapping %s: %w", name, err)
	}
	return m, nil
}

// stated is the mapping to read files by: nil when none is named. One that
// still asks something is not used: what is not certain is not guessed.
func stated(name string) (*mapping.Mapping, error) {
	if name == "" {
		return nil, nil //nolint:nilnil // no mapping is an answer
	}
	m, err := loadMapping(name)
	if err != nil {
		return nil, err
	}
	if open := m.Questions(); len(open) > 0 {
		return nil, usagef("--mapping %s still asks: %s", name, strings.Join(open, "; "))
	}
	return m, nil
}
