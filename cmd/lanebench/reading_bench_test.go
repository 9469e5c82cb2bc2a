package main

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"lanewright/importers"
	"lanewright/importers/sheet"
	"lanewright/planner/plant"
	"lanewright/storage"
	"lanewright/storage/storagetest"
	"lanewright/testdata/sheets"
)

// readings are what BenchmarkReading measures, each in a process of its own
// that is told by these variables which one, the file and the database, and
// prints its largest resident memory.
const (
	readingStage    = "LANEWRIGHT_READING_STAGE"
	readingFile     = "LANEWRIGHT_READING_FILE"
	readingDatabase = "LANEWRIGHT_READING_DATABASE"
)

var readings = []struct {
	name string
	run  func(ctx context.Context, file string) error
}{{"library", libraryRows}, {"gate", throughGate}, {"facts", intoFacts}, {"import", intoPostgres}}

func TestMain(m *testing.M) {
	for _, r := range readings {
		if r.name != os.Getenv(readingStage) {
			continue
		}
		if err := r.run(context.Background(), os.Getenv(readingFile)); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		fmt.Println(peakMemory())
		os.Exit(0)
	}
	os.Exit(m.Run())
}

// libraryRows is the measuring stick: the spreadsheet library's bare iteration
// over the raw rows.
func libraryRows(_ context.Context, file string) error {
	f, err := excelize.OpenFile(file, excelize.Options{RawCellValue: true})
	if err != nil {
		return err
	}
	rows, err := f.Rows(f.GetSheetName(0))
	if err != nil {
		return err
	}
	for rows.Next() {
		if _, err := rows.Columns(); err != nil {
			return err
		}
	}
	return f.Close()
}

func throughGate(ctx context.Context, file string) error {
	_, err := sheet.Open(ctx, file, sheet.DefaultLimits())
	return err
}

func intoFacts(ctx context.Context, file string) error {
	_, err := readFacts(ctx, file)
	return err
}

func readFacts(ctx context.Context, file string) (*importers.Result, error) {
	r, err := importers.ReadFiles(ctx, file)
	if err == nil && r.Findings.HasErrors() {
		err = fmt.Errorf("%s has errors: %v", file, r.Findings[0])
	}
	return r, err
}

// intoPostgres stores the facts as a revision of a plant of this process's own.
func intoPostgres(ctx context.Context, file string) error {
	r, err := readFacts(ctx, file)
	if err != nil {
		return err
	}
	db, err := storage.Open(ctx, os.Getenv(readingDatabase))
	if err != nil {
		return err
	}
	defer db.Close()
	name := fmt.Sprint("plant of process ", os.Getpid())
	_, _, err = db.SaveRevision(ctx, name, &r.Plant, plant.Revision(&r.Plant), nil, r.Findings)
	return err
}

// BenchmarkReading measures, on one file in one run, what reading costs beside
// the library's bare rows: a flat table of 100,000 rows of twenty cells, or
// LANEWRIGHT_READING_FILE. It reports CPU and largest resident memory of the
// gate, of typed facts with their places, joined and checked, and of storing
// them too, in a Postgres that keeps what it is told. The memory is that above
// the library's; the CPU of storing is ours and that of the database's session.
func BenchmarkReading(b *testing.B) {
	file := os.Getenv(readingFile)
	if file == "" {
		file = filepath.Join(b.TempDir(), "plant.xlsx")
		require.NoError(b, os.WriteFile(file, sheets.Large(100_000), 0o600))
	}
	url := storagetest.Durable(b)
	db, err := storage.Open(b.Context(), url)
	require.NoError(b, err)
	require.NoError(b, db.Migrate(b.Context()))
	db.Close()
	server := serverOf(b, url)
	type cost struct {
		cpu, clock time.Duration
		mib        float64
	}
	costs := map[string]*cost{}
	for _, r := range readings {
		costs[r.name] = &cost{}
	}
	for b.Loop() {
		for _, r := range readings {
			cmd := exec.CommandContext(b.Context(), os.Args[0])
			cmd.Env = append(os.Environ(), readingStage+"="+r.name, readingFile+"="+file, readingDatabase+"="+url)
			cmd.Stderr = os.Stderr
			start, beside := time.Now(), server.cpu()
			out, err := cmd.Output()
			require.NoError(b, err, r.name)
			c := costs[r.name]
			c.clock += time.Since(start)
			c.cpu += cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()
			if r.name == "import" {
				time.Sleep(100 * time.Millisecond) // the server counts a session that has ended
				c.cpu += server.cpu() - beside
			}
			mib, err := strconv.ParseFloat(strings.TrimSpace(string(out)), 64)
			require.NoError(b, err)
			c.mib = max(c.mib, mib)
		}
	}
	library, facts := costs["library"], costs["facts"]
	b.ReportMetric(library.cpu.Seconds()/float64(b.N), "library-cpu-s")
	b.ReportMetric(library.mib, "library-MiB")
	for _, name := range []string{"gate", "facts", "import"} {
		b.ReportMetric(costs[name].cpu.Seconds()/library.cpu.Seconds(), name+"/library-cpu")
		b.ReportMetric(costs[name].mib-library.mib, name+"-MiB-above")
	}
	b.ReportMetric(costs["import"].clock.Seconds()/facts.clock.Seconds(), "import/facts-clock")
	b.ReportMetric(costs["import"].cpu.Seconds()/facts.cpu.Seconds(), "import/facts-cpu")
	b.ReportMetric(0, "ns/op")
}

// server is the Postgres that the benchmark uses, by the id of its process; 0
// where that is not known (it runs elsewhere, or the system is not Linux).
type server int

func serverOf(b *testing.B, url string) server {
	b.Helper()
	db, err := pgx.Connect(b.Context(), url)
	require.NoError(b, err)
	defer db.Close(b.Context())
	var dir string
	require.NoError(b, db.QueryRow(b.Context(), "show data_directory").Scan(&dir))
	var pid server
	file, err := os.ReadFile(filepath.Join(dir, "postmaster.pid"))
	if err == nil {
		_, err = fmt.Sscan(string(file), &pid)
	}
	if err != nil {
		b.Log("the CPU time of the database is not known: ", err)
	}
	return pid
}

// cpu is what the sessions that have ended took: cutime and cstime of proc(5),
// in hundredths of a second.
func (s server) cpu() (t time.Duration) {
	stat, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", s))
	_, behind, ok := strings.Cut(string(stat), ") ")
	fields := strings.Fields(behind)
	if err != nil || !ok || len(fields) < 15 {
		return 0
	}
	for _, ticks := range fields[13:15] {
		n, err := strconv.Atoi(ticks)
		if err != nil {
			return 0
		}
		t += time.Duration(n) * 10 * time.Millisecond
	}
	return t
}
