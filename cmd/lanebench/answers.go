package main

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"
)

func answersCommand() *cobra.Command {
	a := &asker{client: &http.Client{Timeout: time.Minute}}
	var each int
	var seed uint64
	cmd := &cobra.Command{
		Use:   "answers URL",
		Short: "Ask a running server everything it can be asked, and print how long its answers take",
		Long: "answers reads what the server at URL says of its API and asks each operation that answers with JSON many times,\n" +
			"one after the other, for cells, racks, routes, loops and rounds drawn at random from one plan of one plant.\n" +
			"A row per operation, the slowest first: milliseconds by the clock, from asking to the last byte: the first\n" +
			"answer, then the middle and the 99th of 100 of the others; and the bytes of the longest.",
		Example: "  lanewright serve & lanebench answers http://127.0.0.1:8080 --plant \"North works\"",
		Args:    cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			a.base, a.dice = strings.TrimRight(args[0], "/"), rand.New(rand.NewPCG(seed, 0)) //nolint:gosec // no secret
			rows, err := a.askAll(cmd.Context(), each)
			if err != nil {
				return failed(err)
			}
			return printAnswers(cmd.OutOrStdout(), rows)
		},
	}
	cmd.Flags().StringVar(&a.plant, "plant", "", "name of the plant; the first where none is named")
	cmd.Flags().StringVar(&a.skip, "skip", "choices,reliefs,trade,trace,build", "words: operations whose address ends with one are computed when asked for, and left out")
	cmd.Flags().IntVar(&each, "each", 200, "how often each operation is asked")
	cmd.Flags().Uint64Var(&seed, "seed", 1, "seed of the draws")
	return cmd
}

// asker asks one server about one plan.
type asker struct {
	client            *http.Client
	base, plant, skip string
	dice              *rand.Rand
	// known are the values that a parameter can have; those of a loop go together.
	known map[string][]string
	loops []map[string]string
}

// answers is how long one operation took, in order of asking.
type answers struct {
	path  string
	took  []time.Duration
	bytes int
}

// operation is one of the API's, as the server describes it.
type operation struct {
	Parameters []struct {
		Name     string `json:"name"`
		In       string `json:"in"`
		Required bool   `json:"required"`
	} `json:"parameters"`
	Responses map[string]struct {
		Content map[string]json.RawMessage `json:"content"`
	} `json:"responses"`
}

func (a *asker) askAll(ctx context.Context, each int) ([]answers, error) {
	var described struct {
		Paths map[string]struct {
			Get *operation `json:"get"`
		} `json:"paths"`
	}
	if err := a.ask(ctx, "/api/v1/openapi.json", &described); err != nil {
		return nil, err
	}
	if err := a.know(ctx); err != nil {
		return nil, err
	}
	var rows []answers
	for path, item := range described.Paths {
		if item.Get == nil || a.skipped(path) {
			continue
		}
		if _, plain := item.Get.Responses["200"].Content["application/json"]; plain && a.answerable(item.Get) {
			rows = append(rows, answers{path: path})
		}
	}
	slices.SortFunc(rows, func(x, y answers) int { return cmp.Compare(x.path, y.path) })
	for i := range rows {
		for range each {
			start := time.Now()
			n, err := a.fetch(ctx, a.filled(rows[i].path, described.Paths[rows[i].path].Get), io.Discard)
			if err != nil {
				return nil, err
			}
			rows[i].took = append(rows[i].took, time.Since(start))
			rows[i].bytes = max(rows[i].bytes, n)
		}
	}
	return rows, nil
}

func (a *asker) skipped(path string) bool {
	for word := range strings.SplitSeq(a.skip, ",") {
		if word != "" && strings.HasSuffix(path, "/"+word) {
			return true
		}
	}
	return false
}

// know fetches what can be asked about.
func (a *asker) know(ctx context.Context) error {
	a.known = map[string][]string{}
	if a.plant == "" {
		var plants struct{ Items []struct{ Plant string } }
		if err := a.ask(ctx, "/api/v1/plants", &plants); err != nil {
			return err
		}
		if len(plants.Items) == 0 {
			return errors.New("the server has no plant")
		}
		a.plant = plants.Items[0].Plant
	}
	a.known["plant"] = []string{a.plant}
	at := "/api/v1/plants/" + url.PathEscape(a.plant)
	var revisions struct{ Items []struct{ Number int } }
	var plans struct{ Items []struct{ ID int64 } }
	if err := errors.Join(a.ask(ctx, at+"/revisions", &revisions), a.ask(ctx, at+"/plans", &plans)); err != nil {
		return err
	}
	if len(plans.Items) == 0 {
		return fmt.Errorf("the plant %q has no plan", a.plant)
	}
	plan := fmt.Sprint(plans.Items[0].ID)
	a.known["plan"], a.known["other"], a.known["number"] = []string{plan}, []string{plan}, []string{fmt.Sprint(revisions.Items[0].Number)}
	day := nextMonday(time.Now()).Format(time.DateOnly)
	a.known["day"] = []string{day}
	var whole struct {
		Racks  []struct{ Rack string }
		Routes []struct{ Route string }
		Loops  []struct{ Part, Cell, Station string }
	}
	var rounds struct{ Items []struct{ Round string } }
	if err := errors.Join(a.ask(ctx, "/api/v1/plans/"+plan, &whole),
		a.ask(ctx, "/api/v1/rounds?"+url.Values{"plant": {a.plant}, "day": {day}, "limit": {"1000"}}.Encode(), &rounds)); err != nil {
		return err
	}
	for _, r := range whole.Racks {
		a.known["rack"] = append(a.known["rack"], r.Rack)
	}
	for _, r := range whole.Routes {
		a.known["route"] = append(a.known["route"], r.Route)
	}
	for _, r := range rounds.Items {
		a.known["round"] = append(a.known["round"], r.Round)
	}
	for _, l := range whole.Loops {
		a.known["cell"], a.known["station"] = append(a.known["cell"], l.Cell), append(a.known["station"], l.Station)
		a.loops = append(a.loops, map[string]string{"part": l.Part, "cell": l.Cell, "station": l.Station})
	}
	return nil
}

func nextMonday(from time.Time) time.Time {
	return from.AddDate(0, 0, (8-int(from.Weekday()))%7)
}

// answerable reports whether all that an operation must be told is known.
func (a *asker) answerable(o *operation) bool {
	for _, p := range o.Parameters {
		if p.Required && p.Name != "part" && len(a.known[p.Name]) == 0 {
			return false
		}
	}
	return len(a.loops) > 0
}

// filled is the address of an operation for things drawn at random.
func (a *asker) filled(path string, o *operation) string {
	query := url.Values{}
	loop := map[string]string{}
	for _, p := range o.Parameters {
		if p.Required && p.Name == "part" {
			loop = a.loops[a.dice.IntN(len(a.loops))]
		}
	}
	for _, p := range o.Parameters {
		if !p.Required {
			continue
		}
		value, ok := loop[p.Name]
		if !ok {
			value = a.known[p.Name][a.dice.IntN(len(a.known[p.Name]))]
		}
		if p.In == "query" {
			query.Set(p.Name, value)
		} else {
			path = strings.ReplaceAll(path, "{"+p.Name+"}", url.PathEscape(value))
		}
	}
	if len(query) > 0 {
		path += "?" + query.Encode()
	}
	return path
}

func (a *asker) ask(ctx context.Context, path string, into any) error {
	var body strings.Builder
	if _, err := a.fetch(ctx, path, &body); err != nil {
		return err
	}
	if err := json.Unmarshal([]byte(body.String()), into); err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	return nil
}

func (a *asker) fetch(ctx context.Context, path string, into io.Writer) (int, error) {
	request, err := http.NewRequestWithContext(ctx, http.MethodGet, a.base+path, nil)
	if err != nil {
		return 0, fmt.Errorf("ask for %s: %w", path, err)
	}
	answer, err := a.client.Do(request)
	if err != nil {
		return 0, fmt.Errorf("ask for %s: %w", path, err)
	}
	defer answer.Body.Close()
	n, err := io.Copy(into, answer.Body)
	if err == nil && answer.StatusCode != http.StatusOK {
		err = errors.New(answer.Status)
	}
	if err != nil {
		return 0, fmt.Errorf("ask for %s: %w", path, err)
	}
	return int(n), nil
}

func printAnswers(w io.Writer, rows []answers) error {
	ms := func(d time.Duration) float64 { return float64(d.Microseconds()) / 1000 }
	of100 := func(list []time.Duration, n int) time.Duration { return list[min(len(list)-1, len(list)*n/100)] }
	later := func(r answers) []time.Duration { return slices.Sorted(slices.Values(r.took[min(1, len(r.took)-1):])) }
	slices.SortStableFunc(rows, func(x, y answers) int { return cmp.Compare(of100(later(y), 99), of100(later(x), 99)) })
	if _, err := fmt.Fprintf(w, "%9s %9s %9s %10s  %s\n", "first", "middle", "99th", "bytes", "operation"); err != nil {
		return fmt.Errorf("print answers: %w", err)
	}
	for _, r := range rows {
		list := later(r)
		if _, err := fmt.Fprintf(w, "%9.1f %9.1f %9.1f %10d  %s\n", ms(r.took[0]), ms(of100(list, 50)), ms(of100(list, 99)), r.bytes, r.path); err != nil {
			return fmt.Errorf("print answers: %w", err)
		}
	}
	return nil
}
