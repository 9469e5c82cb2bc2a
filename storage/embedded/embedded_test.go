//go:build linux || darwin || freebsd

package embedded_test

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"os/user"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/storage/embedded"
)

// parentOf makes the test program play the program that runs a server: it
// starts one in the directory the variable names, writes its address, and
// lives until its input ends or it is killed.
const parentOf = "EMBEDDED_TEST_PARENT_OF"

func TestMain(m *testing.M) {
	dir := os.Getenv(parentOf)
	if dir == "" {
		os.Exit(m.Run())
	}
	server, err := embedded.Start(context.Background(), embedded.Options{Dir: dir, UnsafeDurability: true})
	if err != nil {
		fmt.Println("error:", err)
		os.Exit(1)
	}
	fmt.Println(server.URL())
	_, err = io.Copy(io.Discard, os.Stdin)
	if err = errors.Join(err, server.Stop()); err != nil {
		fmt.Println("error:", err)
		os.Exit(1)
	}
}

// tempDir returns a directory that every user may enter.
func tempDir(t *testing.T) string {
	t.Helper()
	dir, err := os.MkdirTemp("", "emb")
	require.NoError(t, err)
	require.NoError(t, os.Chmod(dir, 0o755))
	t.Cleanup(func() { assert.NoError(t, os.RemoveAll(dir)) })
	return dir
}

func start(t *testing.T, o embedded.Options) *embedded.Server {
	t.Helper()
	s, err := embedded.Start(t.Context(), o)
	if errors.Is(err, embedded.ErrNoPostgres) && os.Getenv("CI") == "" {
		t.Skipf("this test needs PostgreSQL: %v", err)
	}
	require.NoError(t, err)
	t.Cleanup(func() { assert.NoError(t, s.Stop()) })
	return s
}

// ask runs a query that answers with one text.
func ask(t *testing.T, url, sql string) (answer string) {
	t.Helper()
	conn, err := pgx.Connect(t.Context(), url)
	require.NoError(t, err)
	defer conn.Close(t.Context())
	require.NoError(t, conn.QueryRow(t.Context(), sql).Scan(&answer))
	return answer
}

func do(t *testing.T, url, sql string) {
	t.Helper()
	conn, err := pgx.Connect(t.Context(), url)
	require.NoError(t, err)
	defer conn.Close(t.Context())
	_, err = conn.Exec(t.Context(), sql)
	require.NoError(t, err)
}

func TestStartStopStart(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(tempDir(t), "pg")
	s := start(t, embedded.Options{Dir: dir})
	for setting, want := range map[string]string{
		"listen_addresses": "", "fsync": "on", "full_page_writes": "on", "synchronous_commit": "on",
		"data_checksums": "on", "server_encoding": "UTF8",
	} {
		assert.Equal(t, want, ask(t, s.URL(), "select current_setting('"+setting+"')"), setting)
	}
	do(t, s.URL(), `create table kept as select 'still here' as it`)
	require.NoError(t, s.Stop())
	require.NoError(t, s.Stop(), "stopping twice does no harm")
	_, err := pgx.Connect(t.Context(), s.URL())
	require.Error(t, err)
	assert.NoFileExists(t, filepath.Join(dir, "data", "postmaster.pid"))

	again := start(t, embedded.Options{Dir: dir})
	assert.Equal(t, s.URL(), again.URL())
	assert.Equal(t, "still here", ask(t, again.URL(), `select it from kept`))
}

func TestOnlyItsUserMayEnter(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(tempDir(t), "pg")
	start(t, embedded.Options{Dir: dir, UnsafeDurability: true})
	for _, path := range []string{dir, filepath.Join(dir, "data"), filepath.Join(dir, "socket")} {
		info, err := os.Stat(path)
		require.NoError(t, err)
		assert.Zero(t, info.Mode()&0o077, "%s is %v", path, info.Mode())
	}
}

func TestSecondStartIsRefused(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(tempDir(t), "pg")
	first := start(t, embedded.Options{Dir: dir, UnsafeDurability: true})
	_, err := embedded.Start(t.Context(), embedded.Options{Dir: dir, UnsafeDurability: true})
	require.ErrorIs(t, err, embedded.ErrInUse)
	assert.ErrorContains(t, err, "process "+strconv.Itoa(os.Getpid()))
	assert.ErrorContains(t, err, dir)
	assert.Equal(t, "1", ask(t, first.URL(), `select '1'`), "the first one goes on")
	assert.Equal(t, first.URL(), embedded.Address(dir), "where the refused one finds it")
}

func TestLongPath(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(tempDir(t), strings.Repeat("long-name-", 12), "pg")
	s := start(t, embedded.Options{Dir: dir, UnsafeDurability: true})
	assert.Equal(t, "1", ask(t, s.URL(), `select '1'`))
	sockets := ask(t, s.URL(), `select current_setting('unix_socket_directories')`)
	assert.Less(t, len(sockets), 90)
	require.NoError(t, s.Stop())
	assert.NoDirExists(t, sockets)
}

func TestSocketDirectoryOfSomebodyElse(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(tempDir(t), "pg")
	require.NoError(t, start(t, embedded.Options{Dir: dir, UnsafeDurability: true}).Stop())
	require.NoError(t, os.Chmod(filepath.Join(dir, "socket"), 0o777))
	_, err := embedded.Start(t.Context(), embedded.Options{Dir: dir})
	assert.ErrorContains(t, err, "not a private directory")
}

func TestForeignDirectoryIsRefused(t *testing.T) {
	t.Parallel()
	dir := tempDir(t)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "letter.txt"), nil, 0o600))
	_, err := embedded.Start(t.Context(), embedded.Options{Dir: dir, UnsafeDurability: true})
	assert.ErrorContains(t, err, "holds other files")
	assert.FileExists(t, filepath.Join(dir, "letter.txt"))
}

func TestHalfMadeDataIsMadeAgain(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(tempDir(t), "pg")
	s := start(t, embedded.Options{Dir: dir, UnsafeDurability: true})
	require.NoError(t, s.Stop())
	require.NoError(t, os.Rename(filepath.Join(dir, "data"), filepath.Join(dir, "data.new")))
	require.NoError(t, os.Remove(filepath.Join(dir, "data.new", "global", "pg_control")))
	s = start(t, embedded.Options{Dir: dir, UnsafeDurability: true})
	assert.Equal(t, "1", ask(t, s.URL(), `select '1'`))
}

func TestStartThatIsCancelled(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(tempDir(t), "pg")
	require.NoError(t, start(t, embedded.Options{Dir: dir, UnsafeDurability: true}).Stop())
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	_, err := embedded.Start(ctx, embedded.Options{Dir: dir, UnsafeDurability: true})
	require.Error(t, err)
	s := start(t, embedded.Options{Dir: dir, UnsafeDurability: true})
	assert.Equal(t, "1", ask(t, s.URL(), `select '1'`), "nothing of it is in the way")
}

// mainProcess returns the number in the server's lock file.
func mainProcess(t *testing.T, dir string) int {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(dir, "data", "postmaster.pid"))
	require.NoError(t, err)
	first, _, _ := strings.Cut(string(text), "\n")
	pid, err := strconv.Atoi(first)
	require.NoError(t, err)
	return pid
}

func TestServerIsKilled(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(tempDir(t), "pg")
	s, err := embedded.Start(t.Context(), embedded.Options{Dir: dir})
	if errors.Is(err, embedded.ErrNoPostgres) && os.Getenv("CI") == "" {
		t.Skipf("this test needs PostgreSQL: %v", err)
	}
	require.NoError(t, err)
	do(t, s.URL(), `create table kept as select 'still here' as it`)
	require.NoError(t, syscall.Kill(mainProcess(t, dir), syscall.SIGKILL))
	require.Error(t, s.Stop(), "a server that did not end by itself is told")
	require.FileExists(t, filepath.Join(dir, "data", "postmaster.pid"))

	again := start(t, embedded.Options{Dir: dir, UnsafeDurability: true})
	assert.Equal(t, "still here", ask(t, again.URL(), `select it from kept`))
}

// TestKilledServerIsKept: while it is kept, a server that is killed runs again
// by itself, every time.
func TestKilledServerIsKept(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(tempDir(t), "pg")
	s := start(t, embedded.Options{Dir: dir})
	do(t, s.URL(), `create table kept as select 'still here' as it`)
	ctx, stop := context.WithCancel(t.Context())
	told, returned := make(chan error, 2), make(chan struct{})
	go func() {
		defer close(returned)
		s.Keep(ctx, func(err error) { told <- err })
	}()
	for range 2 {
		before := mainProcess(t, dir)
		require.NoError(t, syscall.Kill(before, syscall.SIGKILL))
		require.ErrorContains(t, <-told, "ended by itself (signal: killed)")
		require.NoError(t, <-told)
		assert.NotEqual(t, before, mainProcess(t, dir))
		assert.Equal(t, "still here", ask(t, s.URL(), `select it from kept`))
	}
	stop()
	<-returned
	require.NoError(t, s.Stop())
	assert.NoFileExists(t, filepath.Join(dir, "data", "postmaster.pid"))
}

// TestNumberOfDeadServerIsReused leaves the lock files of a killed server
// behind with the number of a living process that is no server.
func TestNumberOfDeadServerIsReused(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(tempDir(t), "pg")
	s := start(t, embedded.Options{Dir: dir, UnsafeDurability: true})
	lock := filepath.Join(dir, "data", "postmaster.pid")
	text, err := os.ReadFile(lock)
	require.NoError(t, err)
	require.NoError(t, s.Stop())
	_, rest, _ := strings.Cut(string(text), "\n")
	stale := fmt.Sprintf("%d\n%s", os.Getppid(), rest)
	require.NoError(t, os.WriteFile(lock, []byte(stale), 0o600))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "socket", ".s.PGSQL.5432.lock"), []byte(stale), 0o600))

	s = start(t, embedded.Options{Dir: dir, UnsafeDurability: true})
	assert.Equal(t, "1", ask(t, s.URL(), `select '1'`))
	assert.NotErrorIs(t, syscall.Kill(os.Getppid(), 0), syscall.ESRCH, "the stranger lives")
}

// parent starts another program that runs a server in dir, as the given user
// (nil: as the caller), and returns it with the server's address.
func parent(t *testing.T, dir string, as *syscall.Credential) (cmd *exec.Cmd, url string, end func()) {
	t.Helper()
	program, err := os.Executable()
	require.NoError(t, err)
	if as != nil {
		// Copied by another program: a file that this one had written could
		// still be open in a child that another test starts just now.
		reachable := filepath.Join(tempDir(t), "program")
		require.NoError(t, exec.Command("cp", program, reachable).Run())
		program = reachable
	}
	cmd = exec.Command(program)
	cmd.Dir = "/"
	cmd.Env = append(os.Environ(), parentOf+"="+dir)
	cmd.SysProcAttr = &syscall.SysProcAttr{Credential: as}
	in, err := cmd.StdinPipe()
	require.NoError(t, err)
	out, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	line, err := bufio.NewReader(out).ReadString('\n')
	require.NoError(t, err)
	url = strings.TrimSpace(line)
	if strings.Contains(url, embedded.ErrNoPostgres.Error()) && os.Getenv("CI") == "" {
		require.Error(t, cmd.Wait())
		t.Skip("this test needs PostgreSQL")
	}
	require.True(t, strings.HasPrefix(url, "postgres://"), url)
	return cmd, url, func() {
		assert.NoError(t, in.Close())
		assert.NoError(t, cmd.Wait())
	}
}

func TestProgramIsKilled(t *testing.T) {
	t.Parallel()
	for name, signal := range map[string]syscall.Signal{"kill": syscall.SIGKILL, "interrupt": syscall.SIGINT} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			dir := filepath.Join(tempDir(t), "pg")
			cmd, url, _ := parent(t, dir, nil)
			do(t, url, `create table kept as select 'still here' as it`)
			_, err := embedded.Start(t.Context(), embedded.Options{Dir: dir, UnsafeDurability: true})
			require.ErrorIs(t, err, embedded.ErrInUse, "while the program lives")
			require.NoError(t, cmd.Process.Signal(signal))
			require.Error(t, cmd.Wait())

			s := start(t, embedded.Options{Dir: dir, UnsafeDurability: true})
			assert.Equal(t, "still here", ask(t, s.URL(), `select it from kept`))
		})
	}
}

// TestAsPlainUser runs the program as a user who is not root, when the tests
// themselves run as root.
func TestAsPlainUser(t *testing.T) {
	t.Parallel()
	if os.Geteuid() != 0 {
		t.Skip("the other tests run as a plain user already")
	}
	nobody, err := user.Lookup("nobody")
	require.NoError(t, err)
	uid, err := strconv.Atoi(nobody.Uid)
	require.NoError(t, err)
	gid, err := strconv.Atoi(nobody.Gid)
	require.NoError(t, err)
	home := filepath.Join(tempDir(t), "home")
	require.NoError(t, os.Mkdir(home, 0o700))
	require.NoError(t, os.Chown(home, uid, gid))
	dir := filepath.Join(home, "state", "pg")
	_, url, end := parent(t, dir, &syscall.Credential{Uid: uint32(uid), Gid: uint32(gid)})
	assert.Equal(t, "lanewright", ask(t, url, `select current_user::text`))
	do(t, url, `create table kept as select 'still here' as it`)
	end()
	assert.NoFileExists(t, filepath.Join(dir, "data", "postmaster.pid"))

	s := start(t, embedded.Options{Dir: dir, UnsafeDurability: true})
	assert.Equal(t, "still here", ask(t, s.URL(), `select it from kept`), "root goes on as the owner of the data")
}

func TestRootsPrivateDirectory(t *testing.T) {
	t.Parallel()
	if os.Geteuid() != 0 {
		t.Skip("only root runs the server as somebody else")
	}
	private := filepath.Join(tempDir(t), "private")
	require.NoError(t, os.Mkdir(private, 0o700))
	_, err := embedded.Start(t.Context(), embedded.Options{Dir: filepath.Join(private, "pg")})
	require.Error(t, err)
	assert.ErrorContains(t, err, "may not enter "+private)
	assert.ErrorContains(t, err, "choose another directory")
}

func TestUserThatWillNotDo(t *testing.T) {
	t.Parallel()
	if os.Geteuid() != 0 {
		t.Skip("only root runs the server as somebody else")
	}
	for name, sentence := range map[string]string{"root": "does not run as user root", "no-such-user": "no-such-user"} {
		_, err := embedded.Start(t.Context(), embedded.Options{Dir: filepath.Join(tempDir(t), "pg"), User: name})
		assert.ErrorContains(t, err, sentence)
	}
}
