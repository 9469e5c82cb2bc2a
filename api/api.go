// Package api serves plants, plans and runs over HTTP: a JSON API with an
// OpenAPI 3.1 description, problem documents (RFC 9457) for every error, and
// the pages of package web, which live on that API like everybody else. It
// knows the store only by the small interfaces it declares.
package api

import (
	"log/slog"
	"net/http"
	"time"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/adapters/humachi"
	"github.com/go-chi/chi/v5"
	"golang.org/x/time/rate"

	"lanewright/api/web"
	"lanewright/planner"
)

// Store keeps plants, plans, their plays and runs. Its methods answer with the errors of
// package archive.
type Store interface {
	PlantStore
	RevisionStore
	MappingStore
	PlanStore
	DraftStore
	PublicationStore
	SimulationStore
	RunStore
	TickStore
	Pinger
}

// Options say how the API is served.
type Options struct {
	Store Store
	// Log takes requests and failures; nil discards them.
	Log *slog.Logger
	// Version of the program, shown by /healthz and the OpenAPI document.
	Version string
	// Clock tells the time of log lines and measurements; nil is time.Now.
	Clock func() time.Time
	// Hosts are names that a request may ask for beside the loopback ones when
	// it arrives on a loopback address, as behind a proxy on this machine.
	Hosts []string
	// Heartbeat is the time between two comments on an idle event stream; 0 is
	// 15 s.
	Heartbeat time.Duration
	// Trace plays a plan to show what one loop lives through; nil plays it.
	Trace Tracer
}

// server holds what the handlers share.
type server struct {
	store     Store
	log       *slog.Logger
	version   string
	clock     func() time.Time
	hosts     []string
	heartbeat time.Duration
	plans     *cache[int64, *view]
	plays     *cache[int64, *played]
	facts     *cache[factsKey, *facts]
	sheets    *cache[int64, map[string]*planner.RoundSheet]
	days      *cache[dayKey, []planner.DayRound]
	reliefs   *cache[reliefKey, []planner.Relief]
	compared  *cache[[2]int64, *compared]
	laid      *cache[laidKey, *planner.Laid]
	drafted   *cache[laidKey, *draftPlan]
	hub       *hub
	meter     *meter
	// importing lets few files be read at once: each may need much memory.
	importing chan struct{}
	// trace is computed few at once; tracing counts them.
	trace   Tracer
	tracing chan struct{}
	// ticking bounds how many batches of ticks are taken in a second.
	ticking *rate.Limiter
}

// New returns the handler of everything that is served.
func New(o Options) http.Handler {
	s := newServer(o)
	r := chi.NewRouter()
	s.use(r)
	api := humachi.New(r, s.config())
	s.routes(api)
	r.Get("/healthz", s.healthz)
	r.Get("/readyz", s.readyz)
	r.Get("/metrics", s.meter.handler())
	r.Get("/api/v1/openapi.json", s.openAPI(api))
	web.Mount(r)
	return r
}

func newServer(o Options) *server {
	if o.Log == nil {
		o.Log = slog.New(slog.DiscardHandler)
	}
	if o.Clock == nil {
		o.Clock = time.Now
	}
	if o.Heartbeat <= 0 {
		o.Heartbeat = 15 * time.Second
	}
	if o.Trace == nil {
		o.Trace = trace
	}
	s := &server{
		store: o.Store, log: o.Log, version: o.Version, clock: o.Clock,
		hosts: o.Hosts, heartbeat: o.Heartbeat,
		plans: newCache[int64, *view](plansKept), plays: newCache[int64, *played](plansKept), facts: newCache[factsKey, *facts](plansKept),
		sheets: newCache[int64, map[string]*planner.RoundSheet](plansKept), days: newCache[dayKey, []planner.DayRound](daysKept),
		reliefs: newCache[reliefKey, []planner.Relief](reliefsKept), compared: newCache[[2]int64, *compared](plansKept),
		laid: newCache[laidKey, *planner.Laid](draftsKept), drafted: newCache[laidKey, *draftPlan](plansKept),
		hub: newHub(o.Store), importing: make(chan struct{}, importsAtOnce),
		trace: o.Trace, tracing: make(chan struct{}, tracesAtOnce),
		ticking: rate.NewLimiter(batchesPerSecond, batchesAtOnce),
	}
	s.meter = newMeter(s)
	return s
}

// routes is the table of the JSON API.
func (s *server) routes(api huma.API) {
	const (
		plants = "/api/v1/plants"
		plant  = plants + "/{plant}"
		plan   = "/api/v1/plans/{plan}"
		draft  = "/api/v1/drafts/{draft}"
		play   = "/api/v1/simulations/{simulation}"
		run    = "/api/v1/runs/{run}"
		rounds = "/api/v1/rounds"
	)
	t := table{s, api}
	get(t, "/api/v1/sheets", "list-sheets", "Sheets and columns that a plant's files may have", s.listKinds)
	get(t, "/api/v1/template.xlsx", "get-template", "An empty plant workbook to fill in", s.template, workbook)
	get(t, plants, "list-plants", "Plants", s.listPlants)
	get(t, plant, "get-plant", "One plant", s.getPlant)
	s.describeImport(post(t, plant+"/imports", "import-file", "Hand in a file", s.importFile, upload))
	s.describeUpload(post(t, plant+"/proposals", "propose-mapping", "What the columns of files seem to mean, what is wrong with them, what they would change", s.proposeMapping, upload))
	s.describeUpload(post(t, plant+"/proposals/excerpt", "read-excerpt", "A part of a sheet as it stands in a file", s.readExcerpt, upload))
	s.describeUpload(post(t, plant+"/proposals/annotated.xlsx", "annotate-file", "The files given back as a workbook with the findings in it", s.annotateFile, upload, workbook))
	get(t, plant+"/mappings", "list-mappings", "What the columns of a plant's files mean", s.listMappings)
	post(t, plant+"/mappings", "save-mapping", "Keep a mapping for files of its shape", s.saveMapping)
	remove(t, plant+"/mappings/{shape}", "remove-mapping", "Forget a mapping", s.removeMapping)
	get(t, plant+"/revisions", "list-revisions", "Revisions of a plant", s.listRevisions)
	get(t, plant+"/revisions/{number}", "get-revision", "One revision", s.getRevision)
	get(t, plant+"/revisions/{number}/changes", "list-revision-changes", "What a revision changed", s.revisionChanges)
	get(t, plant+"/revisions/{number}/workbook.xlsx", "get-revision-workbook", "The facts of a revision as a workbook", s.revisionBook, workbook)
	get(t, plant+"/revisions/{number}/findings", "list-revision-findings", "Findings of a revision", s.revisionFindings)
	get(t, plant+"/plans", "list-plans", "Plans of a plant", s.listPlans)
	post(t, plant+"/plans", "make-plan", "Make a plan", s.makePlan, accepted)
	get(t, plant+"/settings", "list-settings", "What a plan can be asked with, and what counts otherwise", s.listSettings)
	get(t, plant+"/choices", "list-choices", "Refill intervals and service levels compared", s.listChoices)
	get(t, plant+"/published", "get-published", "The plan that the floor works to, and those before", s.getPublished)
	get(t, plant+"/drafts", "list-plant-drafts", "Drafts of all plans of a plant", s.listPlantDrafts)
	get(t, plant+"/runs", "list-runs", "Runs of a plant", s.listRuns)

	get(t, run, "get-run", "One run", s.getRun)
	remove(t, run, "cancel-run", "Cancel a run", s.cancelRun)
	get(t, run+"/events", "watch-run", "Progress of a run as events", s.watchRun, eventStream)

	get(t, plan, "get-plan", "The whole plan document", s.getPlan, planDocument)
	get(t, plan+"/summary", "get-plan-summary", "A plan at a glance", s.planSummary)
	get(t, plan+"/map", "get-map", "A plan laid over the plant's floor", s.getMap)
	get(t, plan+"/cells", "list-cells", "Cells with lanes needed and there", s.listCells)
	get(t, plan+"/cells/{cell}", "get-cell", "One cell", s.getCell)
	get(t, plan+"/cells/{cell}/lanes", "list-cell-lanes", "Lanes of a cell's racks", s.cellLanes)
	get(t, plan+"/cells/{cell}/laid", "get-laid-cell", "One cell with all that lies in it, as drafts show it", s.laidCell)
	get(t, plan+"/cells/{cell}/reliefs", "list-reliefs", "What would make room in a cell", s.listReliefs)
	get(t, plan+"/cells/{cell}/trade", "list-trade", "Frontage and cost of a cell's racks against effort", s.listTrade)
	get(t, plan+"/cells/{cell}/trade.svg", "draw-trade-off", "The same as a picture", s.plotTrade, picture)
	get(t, plan+"/racks", "list-racks", "Racks", s.listRacks)
	get(t, plan+"/racks/{rack}", "get-rack", "One rack with its lanes, stops, findings and build list", s.getRack)
	get(t, plan+"/racks/{rack}.svg", "draw-rack", "A view of a rack, to scale", s.drawRack, picture)
	get(t, plan+"/racks/{rack}.pdf", "get-build-sheet", "What a rack is built by: drawings, parts, cut list, cautions", s.buildSheet, document)
	get(t, plan+"/build", "get-build", "Build list and cut list of racks", s.getBuild)
	get(t, plan+"/lanes", "list-lanes", "Lanes", s.listLanes)
	get(t, plan+"/loops", "list-loops", "Loops", s.listLoops)
	get(t, plan+"/unplaced", "list-unplaced", "Loops without a lane", s.listUnplaced)
	get(t, plan+"/routes", "list-routes", "Refill routes", s.listRoutes)
	get(t, plan+"/routes/{route}", "get-route", "One route", s.getRoute)
	get(t, plan+"/routes/{route}/explanation", "explain-route", "Where a route's time goes and why its stops are on it", s.explainRoute)
	get(t, plan+"/routes/{route}/take", "get-take", "What a round takes from the market, in picking order", s.getTake)
	get(t, plan+"/routes/{route}/rounds", "list-rounds", "The rounds of some days by the clock", s.listRounds)
	get(t, plan+"/racks/{rack}/explanation", "explain-rack", "Why a rack is on its route, or on none", s.explainRack)
	get(t, plan+"/findings", "list-findings", "Findings", s.listFindings)
	get(t, plan+"/moves", "list-moves", "Moves against today's layout", s.listMoves)
	get(t, plan+"/moves/steps", "list-move-steps", "The same in an order that can be worked down", s.listMoveSteps)
	get(t, plan+"/moves/list", "get-move-list", "The same from the plan that the floor works to, with its sums", s.planMoves)
	get(t, plan+"/report.xlsx", "get-report", "The plant rack report", s.report, workbook)
	get(t, plan+"/report.pdf", "print-report", "The plant rack report for printing", s.printReport, document)
	get(t, plan+"/labels.pdf", "print-labels", "Labels of lanes or racks", s.printLabels, document)
	get(t, plan+"/build.pdf", "print-build-sheets", "What several racks are built by, rack by rack", s.printBuildSheets, document)
	get(t, plan+"/cards.pdf", "print-cards", "A card for each container of each loop", s.printCards, document)
	get(t, plan+"/routes.pdf", "print-route-sheets", "Rounds on paper, of every route", s.printRoutes, document)
	get(t, plan+"/routes/{route}/sheet.pdf", "print-route-sheet", "Rounds on paper, of one route", s.printRoute, document)
	post(t, plan+"/simulations", "play-plan", "Play a plan", s.playPlan, accepted)
	get(t, plan+"/simulations", "list-simulations", "Plays of a plan, its proof among them", s.listSimulations)
	get(t, plan+"/explanation", "explain-loop", "How a loop came to have its containers", s.explainLoop)
	get(t, plan+"/why", "why-loop", "Why a loop lies where it lies, and what would change that", s.whyLoop)
	post(t, plan+"/edits", "try-edits", "What edits made by hand make of a plan", s.tryEdits)
	post(t, plan+"/fits", "plan-fits", "Every level of a cell as a place for one loop", s.planFits)
	post(t, plan+"/drafts", "create-draft", "Begin a draft", s.createDraft, created)
	get(t, plan+"/drafts", "list-drafts", "Drafts of a plan", s.listDrafts)
	get(t, plan+"/compare/{other}", "compare-plans", "What differs between two plans", s.comparePlans)
	post(t, plan+"/publish", "publish-plan", "Let the floor work to a plan", s.publishPlan)
	get(t, plan+"/trace", "trace-loop", "What one loop lives through in a play", s.traceLoop)
	get(t, plan+"/trace.svg", "draw-trace", "The same as a picture of a day", s.drawTrace, picture)

	get(t, draft, "get-draft", "One draft with its edits", s.getDraft)
	remove(t, draft, "remove-draft", "Throw a draft away", s.removeDraft)
	get(t, draft+"/edits", "list-draft-edits", "Each edit and what it did", s.listDraftEdits)
	post(t, draft+"/edits", "edit-draft", "Make edits, or merge them", s.editDraft)
	post(t, draft+"/undo", "undo-edit", "Take the last edits back", s.undoEdit)
	post(t, draft+"/redo", "redo-edit", "Make them again", s.redoEdit)
	post(t, draft+"/try", "try-on-draft", "What edits more would make of a draft", s.tryOnDraft)
	post(t, draft+"/fits", "draft-fits", "Every level of a cell as a place for one loop", s.draftFits)
	get(t, draft+"/changes", "get-draft-changes", "What a draft changes of its plan", s.draftChanges)
	get(t, draft+"/compare/{other}", "compare-draft", "What differs between a plan and what a draft makes", s.compareDraft)
	get(t, draft+"/moves", "get-draft-moves", "What must be carried to come to what a draft makes", s.draftMoves)
	get(t, draft+"/onto/{other}", "show-carried", "What a draft meets on another plan", s.showCarried)
	post(t, draft+"/onto/{other}", "carry-draft", "Begin a draft of another plan with the edits of this one", s.carryDraft, created)
	get(t, draft+"/cells/{cell}", "get-draft-cell", "One cell as a draft leaves it", s.draftCell)
	post(t, draft+"/publish", "publish-draft", "Make a plan of a draft and let the floor work to it", s.publishDraft)

	get(t, play, "get-simulation", "One play of a plan", s.getSimulation)
	get(t, play+"/loops", "list-simulated-loops", "What was measured of loops", s.simulatedLoops)
	get(t, play+"/routes", "list-simulated-routes", "What was measured of routes", s.simulatedRoutes)
	get(t, play+"/racks", "list-simulated-racks", "What was measured of the empties on racks", s.simulatedRacks)
	get(t, play+"/findings", "list-simulation-findings", "Findings of a play", s.simulationFindings)

	get(t, rounds, "list-day-rounds", "The rounds of a day, with how far each is", s.listDayRounds)
	get(t, rounds+"/{round}", "get-round", "One round: what to take, and what to do at each stop", s.getRound)
	get(t, rounds+"/{round}/ticks", "list-ticks", "What was ticked on a round", s.listTicks)
	post(t, rounds+"/{round}/ticks", "add-ticks", "Tick off; the same event may be sent again", s.addTicks)
	get(t, plant+"/rounds/summary", "summarise-rounds", "A day's rounds for a supervisor", s.roundsSummary)
}
