package api_test

import (
	"encoding/json"
	"fmt"
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"
	_ "time/tzdata"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/api"
	"lanewright/api/apitest"
	"lanewright/api/wire"
)

// onFloor serves a plant with rounds, in a zone, at a moment that the test may change.
func onFloor(t *testing.T, zone string, now *time.Time) (http.Handler, *apitest.Store) {
	t.Helper()
	s := apitest.Floor(t, zone)
	return api.New(api.Options{Store: s, Version: "test", Clock: func() time.Time { return *now }}), s
}

func dayPath(day, more string) string {
	return "/api/v1/rounds?plant=" + url.QueryEscape(apitest.FloorName) + "&day=" + day + more
}

func roundPath(id string) string { return "/api/v1/rounds/" + url.PathEscape(id) }

var monday = time.Date(2026, 10, 19, 6, 0, 0, 0, time.UTC)

// TestDayRoundsWhenClocksChange: rounds of a night shift leave every interval of work; on
// the nights on which the clocks change (European Union: Directive 2000/84/EC, articles 2
// and 3; United States: Energy Policy Act of 2005, section 110; both from memory) there are fewer
// or more of them, each with a name of its own, and times say which of two hours is meant.
func TestDayRoundsWhenClocksChange(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		zone, day string
		leaves    []string
	}{
		{"Europe/Berlin", "2026-05-02", []string{"22:00:00+02:00", "23:30:00+02:00", "01:00:00+02:00", "02:30:00+02:00", "04:00:00+02:00"}},
		{"Europe/Berlin", "2026-03-28", []string{"22:00:00+01:00", "23:30:00+01:00", "01:00:00+01:00", "03:30:00+02:00", "05:00:00+02:00"}},
		{"Europe/Berlin", "2026-10-24", []string{"22:00:00+02:00", "23:30:00+02:00", "01:00:00+02:00", "02:30:00+02:00", "03:00:00+01:00", "04:30:00+01:00"}},
		{"America/Chicago", "2026-03-07", []string{"22:00:00-06:00", "23:30:00-06:00", "01:00:00-06:00", "03:30:00-05:00", "05:00:00-05:00"}},
		{"America/Chicago", "2026-10-31", []string{"22:00:00-05:00", "23:30:00-05:00", "01:00:00-05:00", "01:30:00-06:00", "03:00:00-06:00", "04:30:00-06:00"}},
	} {
		t.Run(c.zone+" "+c.day, func(t *testing.T) {
			t.Parallel()
			now := monday
			h, _ := onFloor(t, c.zone, &now)
			all := decode[wire.DayRounds](t, call(t, h, "GET", dayPath(c.day, ""), ""))
			assert.Equal(t, c.zone, all.Zone)
			assert.Equal(t, []string{"early", "night"}, all.Shifts)
			assert.Equal(t, []string{"A", "B"}, all.Routes)
			list := decode[wire.DayRounds](t, call(t, h, "GET", dayPath(c.day, "&shift=night&route=A"), ""))
			var leaves []string
			names := map[string]bool{}
			for _, r := range list.Items {
				_, clock, _ := strings.Cut(r.Leaves, "T")
				leaves, names[r.Round] = append(leaves, clock), true
				one := decode[wire.RoundSheet](t, call(t, h, "GET", roundPath(r.Round), ""))
				assert.Equal(t, r, one.DayRound)
				assert.Equal(t, c.day, one.Day, "of the day on which the shift begins")
				assert.Greater(t, one.Visits[0].Arrives, r.Leaves)
			}
			assert.Equal(t, c.leaves, leaves)
			assert.Len(t, names, len(c.leaves))
		})
	}
}

func TestDayRoundsInPages(t *testing.T) {
	t.Parallel()
	now := monday
	h, _ := onFloor(t, "Europe/Berlin", &now)
	seen, next := map[string]bool{}, ""
	for range 10 {
		page := decode[wire.DayRounds](t, call(t, h, "GET", dayPath("2026-10-19", "&limit=4&cursor="+next), ""))
		assert.Equal(t, 14, page.Total)
		for _, r := range page.Items {
			seen[r.Round] = true
		}
		if next = page.Next; next == "" {
			break
		}
	}
	assert.Len(t, seen, 14)
}

func TestRoundSheet(t *testing.T) {
	t.Parallel()
	now := monday
	h, _ := onFloor(t, "Europe/Berlin", &now)
	r := decode[wire.RoundSheet](t, call(t, h, "GET", roundPath(firstRound(t, h)), ""))
	assert.Equal(t, "2026-10-19T06:00:00+02:00", r.Leaves)
	assert.Equal(t, "2026-10-19T06:01:30+02:00", r.Visits[0].Arrives)
	assert.Equal(t, "to_come", r.State)
	assert.Contains(t, r.Rule, "nearest whole container")
	require.NotEmpty(t, r.Takes)
	assert.Equal(t, "M-4", r.Takes[0].Address, "parts with an address come first")
	assert.Equal(t, "Lens, clear", r.Takes[0].Description)
	expected := 0
	for _, s := range r.Visits {
		assert.Equal(t, 5, s.Expected, "4.75 empties in the mean")
		for _, l := range s.Lanes {
			assert.Equal(t, fmt.Sprintf("%s/%d-%d", s.Rack, l.Level, l.Lane), l.Address)
			assert.Equal(t, int64(l.Expected)*24, l.Pieces)
			expected += l.Expected
		}
	}
	for _, x := range r.Takes {
		expected -= x.Expected
	}
	assert.Zero(t, expected, "what is taken is what is brought")
}

func firstRound(t *testing.T, h http.Handler) string {
	t.Helper()
	list := decode[wire.DayRounds](t, call(t, h, "GET", dayPath("2026-10-19", "&route=A"), ""))
	require.NotEmpty(t, list.Items)
	return list.Items[0].Round
}

// tickedRound is a round with something of each kind ticked on it.
func tickedRound(t *testing.T, h http.Handler) string {
	t.Helper()
	round := firstRound(t, h)
	status, answer, _ := send(t, h, round, event(1, monday, `"kind":"started"`), event(2, monday, `"kind":"brought","stop":1,"level":2,"lane":1,"containers":2`),
		event(3, monday, `"kind":"short","stop":1,"level":2,"lane":2,"containers":2`), event(4, monday, `"kind":"empties","stop":1,"containers":2`),
		event(5, monday, `"kind":"skipped","stop":2,"reason":"damaged"`))
	require.Equal(t, 200, status)
	require.NotContains(t, outcomes(answer), "refused")
	return round
}

// event writes an event as a device does.
func event(n int, at time.Time, rest string) string {
	return fmt.Sprintf(`{"id":"00000000-0000-4000-8000-%012d","at":%q,%s}`, n, at.Format(time.RFC3339Nano), rest)
}

func send(t *testing.T, h http.Handler, round string, events ...string) (int, wire.TicksAnswer, wire.Problem) {
	t.Helper()
	w := call(t, h, "POST", roundPath(round)+"/ticks", `{"events":[`+strings.Join(events, ",")+`]}`, jsonBody)
	var answer wire.TicksAnswer
	var refused wire.Problem
	if w.Code == http.StatusOK {
		require.NoError(t, json.Unmarshal(w.Body.Bytes(), &answer))
	} else {
		require.NoError(t, json.Unmarshal(w.Body.Bytes(), &refused), "%s", w.Body)
	}
	return w.Code, answer, refused
}

func outcomes(a wire.TicksAnswer) (list []string) {
	for _, e := range a.Events {
		list = append(list, e.Outcome)
	}
	return list
}

func TestTicks(t *testing.T) {
	t.Parallel()
	now := monday
	h, _ := onFloor(t, "Europe/Berlin", &now)
	round := firstRound(t, h)
	sheet := decode[wire.RoundSheet](t, call(t, h, "GET", roundPath(round), ""))
	first := sheet.Visits[0]
	brought := event(1, monday.Add(2*time.Minute), fmt.Sprintf(`"kind":"brought","stop":1,"level":%d,"lane":%d,"part":%q,"containers":2,"who":"Ida"`, first.Lanes[0].Level, first.Lanes[0].Lane, first.Lanes[0].Part))
	skip := event(2, monday.Add(3*time.Minute), `"kind":"skipped","stop":1,"reason":"rack_blocked"`)
	started := event(3, monday, `"kind":"started"`)
	took := event(4, monday, fmt.Sprintf(`"kind":"took","part":%q,"containers":3`, sheet.Takes[0].Part))

	status, answer, _ := send(t, h, round, skip, brought, event(9, monday, `"kind":"brought","stop":7`), brought)
	require.Equal(t, 200, status)
	assert.Equal(t, []string{"accepted", "accepted", "refused", "known"}, outcomes(answer))
	assert.Contains(t, answer.Events[2].Reason, "no such stop")
	assert.Equal(t, "under_way", answer.Round.State)
	assert.Equal(t, 1, answer.Round.StopsTicked)
	assert.Equal(t, len(first.Lanes)-1, answer.Round.Skipped)

	status, answer, _ = send(t, h, round, started, brought, took)
	require.Equal(t, 200, status)
	assert.Equal(t, []string{"accepted", "known", "accepted"}, outcomes(answer))
	assert.Equal(t, "2026-10-19T08:00:00+02:00", answer.Round.Started, "by the plant's clock")

	sheet = decode[wire.RoundSheet](t, call(t, h, "GET", roundPath(round), ""))
	assert.Equal(t, 2, *sheet.Visits[0].Lanes[0].Brought)
	assert.Nil(t, sheet.Visits[0].Lanes[0].Skipped)
	assert.Equal(t, "rack_blocked", sheet.Visits[0].Lanes[1].Skipped.Reason)
	assert.Equal(t, 3, *sheet.Takes[0].Took)
	assert.Nil(t, sheet.Visits[1].TookBack)

	other := decode[wire.DayRounds](t, call(t, h, "GET", dayPath("2026-10-19", "&route=B"), "")).Items[0].Round
	for name, c := range map[string][]string{
		"other content": {round, strings.Replace(brought, `"containers":2`, `"containers":1`, 1)},
		"other time":    {round, strings.Replace(brought, ":02:", ":03:", 1)},
		"other round":   {other, started},
	} {
		status, _, refused := send(t, h, c[0], event(20, monday, `"kind":"ended"`), c[1])
		assert.Equal(t, 409, status, name)
		require.Len(t, refused.Errors, 1, name)
		assert.Equal(t, "body.events[1].id", refused.Errors[0].Location, name)
	}
	status, _, refused := send(t, h, round, event(21, monday, `"kind":"ended"`), event(21, monday, `"kind":"started"`))
	assert.Equal(t, 409, status, "one id twice in a batch")
	assert.Equal(t, "body.events[1].id", refused.Errors[0].Location)

	status, answer, _ = send(t, h, round, event(5, monday.Add(time.Hour), `"kind":"undone","undoes":"00000000-0000-4000-8000-000000000002"`), event(6, monday.Add(20*time.Minute), `"kind":"ended"`))
	require.Equal(t, 200, status)
	assert.Equal(t, "done", answer.Round.State)
	assert.Zero(t, answer.Round.Skipped)
	list := decode[wire.Ticks](t, call(t, h, "GET", roundPath(round)+"/ticks", ""))
	require.Len(t, list.Ticks, 6, "nothing of a refused batch")
	undone := 0
	for i, x := range list.Ticks {
		assert.False(t, i > 0 && x.At < list.Ticks[i-1].At)
		if x.Undone {
			undone++
			assert.Equal(t, "skipped", x.Kind)
		}
	}
	assert.Equal(t, 1, undone)
}

// TestTicksAnyOrder: one event a batch or all in one, forwards or backwards and twice: the
// round comes to the same.
func TestTicksAnyOrder(t *testing.T) {
	t.Parallel()
	now := monday
	var events []string
	for i, rest := range []string{
		`"kind":"started"`, `"kind":"brought","stop":1,"level":2,"lane":1,"containers":2`, `"kind":"brought","stop":1,"level":2,"lane":1,"containers":4`,
		`"kind":"short","stop":1,"level":2,"lane":2,"containers":1`, `"kind":"skipped","stop":1,"reason":"other","text":"wet floor"`, `"kind":"empties","stop":1,"containers":5`,
		`"kind":"undone","undoes":"00000000-0000-4000-8000-000000000002"`, `"kind":"ended"`,
	} {
		events = append(events, event(i, monday.Add(time.Duration(i%3)*time.Minute), rest))
	}
	var want string
	for name, batches := range map[string][][]string{
		"at once": {events}, "backwards": backwards(events), "twice": {events[4:], events, events[:5]},
	} {
		h, _ := onFloor(t, "Europe/Berlin", &now)
		round := firstRound(t, h)
		for _, b := range batches {
			status, answer, refused := send(t, h, round, b...)
			require.Equal(t, 200, status, "%s: %v", name, refused)
			assert.NotContains(t, outcomes(answer), "refused", name)
		}
		got := call(t, h, "GET", roundPath(round), "").Body.String()
		if want == "" {
			want = got
		}
		assert.Equal(t, want, got, name)
		assert.Len(t, decode[wire.Ticks](t, call(t, h, "GET", roundPath(round)+"/ticks", "")).Ticks, len(events), name)
	}
}

func backwards(list []string) (batches [][]string) {
	for i := range list {
		batches = append(batches, []string{list[len(list)-1-i]})
	}
	return batches
}

func TestTicksOfOtherTimes(t *testing.T) {
	t.Parallel()
	now := monday
	h, _ := onFloor(t, "Europe/Berlin", &now)
	round := firstRound(t, h)
	now = monday.AddDate(0, 0, 40)
	_, answer, _ := send(t, h, round, event(1, monday, `"kind":"started"`), event(2, time.Unix(0, 0), `"kind":"ended"`), event(3, monday.AddDate(0, 0, 42), `"kind":"ended"`))
	assert.Equal(t, []string{"accepted", "refused", "refused"}, outcomes(answer), "late is well, a clock that was never set is not")
	now = monday.AddDate(0, 0, 70)
	_, answer, _ = send(t, h, round, event(4, monday, `"kind":"ended"`))
	assert.Equal(t, []string{"refused"}, outcomes(answer))
}

func TestTickProblems(t *testing.T) {
	t.Parallel()
	now := monday
	h, _ := onFloor(t, "Europe/Berlin", &now)
	round := firstRound(t, h)
	for name, c := range map[string]struct {
		path, body string
		status     int
		want       string
	}{
		"no round":       {roundPath("1.2026-10-19.1.20261019T040001Z.A"), `{"events":[` + event(1, monday, `"kind":"started"`) + `]}`, 404, "no round"},
		"no plan":        {roundPath("9.2026-10-19.1.20261019T040000Z.A"), `{"events":[` + event(1, monday, `"kind":"started"`) + `]}`, 404, "lan 9"},
		"no name":        {roundPath("today"), `{"events":[` + event(1, monday, `"kind":"started"`) + `]}`, 404, "no round"},
		"nothing":        {roundPath(round), `{"events":[]}`, 422, "body.events"},
		"too many":       {roundPath(round), `{"events":[` + strings.Repeat(event(1, monday, `"kind":"started"`)+",", 200) + event(1, monday, `"kind":"started"`) + `]}`, 422, "body.events"},
		"no id":          {roundPath(round), `{"events":[{"id":"1","at":"2026-10-19T06:00:00Z","kind":"started"}]}`, 422, "body.events[0].id"},
		"no time":        {roundPath(round), `{"events":[{"id":"00000000-0000-4000-8000-000000000001","at":"noon","kind":"started"}]}`, 422, "body.events[0].at"},
		"unknown field":  {roundPath(round), `{"events":[` + event(1, monday, `"kind":"started","colour":"red"`) + `]}`, 422, "body.events[0].colour"},
		"a text too far": {roundPath(round), `{"events":[` + event(1, monday, `"kind":"started","who":"`+strings.Repeat("x", 81)+`"`) + `]}`, 422, "body.events[0].who"},
	} {
		w := call(t, h, "POST", c.path+"/ticks", c.body, jsonBody)
		assert.Equal(t, c.status, w.Code, "%s: %s", name, w.Body)
		assert.Contains(t, w.Body.String(), c.want, name)
	}
	assert.Equal(t, 404, call(t, h, "GET", roundPath("today"), "").Code)
	assert.Equal(t, 404, call(t, h, "GET", roundPath("today")+"/ticks", "").Code)
	assert.Equal(t, 404, call(t, h, "GET", "/api/v1/rounds?plant=Nowhere&day=2026-10-19", "").Code)
	assert.Equal(t, 422, call(t, h, "GET", "/api/v1/rounds?day=2026-10-19", "").Code)
	assert.Equal(t, 422, call(t, h, "GET", dayPath("2026-10-32", ""), "").Code)
}

// TestTicksAreTakenAtARate: who sends without end is told to wait, and nothing is lost.
func TestTicksAreTakenAtARate(t *testing.T) {
	t.Parallel()
	now := monday
	h, _ := onFloor(t, "Europe/Berlin", &now)
	round := firstRound(t, h)
	one := `{"events":[` + event(1, monday, `"kind":"started"`) + `]}`
	for range 400 {
		require.Equal(t, 200, call(t, h, "POST", roundPath(round)+"/ticks", one, jsonBody).Code)
	}
	w := call(t, h, "POST", roundPath(round)+"/ticks", one, jsonBody)
	assert.Equal(t, 429, w.Code)
	assert.NotEmpty(t, w.Header().Get("Retry-After"))
	now = now.Add(time.Second)
	assert.Equal(t, 200, call(t, h, "POST", roundPath(round)+"/ticks", one, jsonBody).Code)
}

func TestRoundsSummary(t *testing.T) {
	t.Parallel()
	now := monday
	h, s := onFloor(t, "Europe/Berlin", &now)
	path := "/api/v1/plants/" + url.PathEscape(apitest.FloorName) + "/rounds/summary?day=2026-10-19"
	round := firstRound(t, h)
	began := time.Date(2026, 10, 19, 4, 8, 0, 0, time.UTC)
	status, _, _ := send(t, h, round, event(1, began, `"kind":"started"`), event(2, began, `"kind":"short","stop":1,"level":2,"lane":1,"containers":2`),
		event(3, began, `"kind":"skipped","stop":2,"reason":"lane_full","who":"Ida"`), event(4, began.Add(6*time.Minute), `"kind":"ended"`))
	require.Equal(t, 200, status)
	now = time.Date(2026, 10, 19, 4, 40, 0, 0, time.UTC) // 06:40; the round of route B left at 06:00 and is back
	x := decode[wire.RoundsSummary](t, call(t, h, "GET", path, ""))
	assert.Equal(t, []int{14, 1, 0, 13, 1}, []int{x.Rounds, x.Done, x.UnderWay, x.ToCome, x.Missed})
	assert.Equal(t, 2, x.Late)
	require.Len(t, x.LateList, 2)
	assert.Equal(t, "B", x.LateList[0].Route, "the latest first: it has not begun")
	assert.InDelta(t, 40, x.LateList[0].StartLateMin, 1e-9)
	assert.InDelta(t, 8, x.LateList[1].StartLateMin, 1e-9)
	assert.Equal(t, 2, x.Short)
	assert.Equal(t, []wire.SkipCount{{Reason: "lane_full", Lanes: x.Skipped}}, x.Reasons)
	require.Len(t, x.Misses, 1+x.Skipped)
	assert.Equal(t, "R1/2-1", x.Misses[0].Address)
	assert.Equal(t, "Ida", x.Misses[1].Skipped.Who)
	few := decode[wire.RoundsSummary](t, call(t, h, "GET", path+"&limit=1&late_min=10", ""))
	assert.Equal(t, []int{1, 1, 1 + x.Skipped}, []int{few.Late, len(few.Misses), few.MissesIn})

	again, err := s.LoadPlan(t.Context(), 1)
	require.NoError(t, err)
	_, err = s.SavePlan(t.Context(), apitest.FloorName, 1, again)
	require.NoError(t, err)
	later := decode[wire.RoundsSummary](t, call(t, h, "GET", path, ""))
	assert.Equal(t, int64(2), later.Plan)
	assert.Equal(t, []wire.StrayRound{{Round: round, Ticks: 4}}, later.Strays, "what was ticked on the plan before is told")
	assert.Zero(t, later.Done)
}

// TestRoundsBeforeThePlan: rounds that left before the floor worked to the plan are
// nobody's fault.
func TestRoundsBeforeThePlan(t *testing.T) {
	t.Parallel()
	now := time.Date(2026, 3, 2, 22, 10, 0, 0, time.UTC) // 23:10; the plan was made at 08:30
	h, _ := onFloor(t, "Europe/Berlin", &now)
	x := decode[wire.RoundsSummary](t, call(t, h, "GET", "/api/v1/plants/"+url.PathEscape(apitest.FloorName)+"/rounds/summary?day=2026-03-02", ""))
	assert.Equal(t, []int{14, 14, 4}, []int{x.Rounds, x.ToCome, x.Earlier})
	assert.Equal(t, []int{2, 2}, []int{x.Late, x.Missed}, "the first of the night, on both routes")
}
