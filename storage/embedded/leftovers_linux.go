package embedded

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"
)

// serversOn lists the living processes of PostgreSQL that work in data, as all
// of a server's do. A zombie works nowhere, and a stranger with the number of a
// dead server works elsewhere.
func serversOn(data string, _ int) []int {
	real, err := filepath.EvalSymlinks(data)
	if err != nil {
		return nil
	}
	links, _ := filepath.Glob("/proc/[0-9]*/cwd")
	var pids []int
	for _, link := range links {
		dir, err := os.Readlink(link)
		name, _ := os.ReadFile(filepath.Join(filepath.Dir(link), "comm"))
		if err != nil || dir != real || strings.TrimSpace(string(name)) != "postgres" {
			continue
		}
		if pid, err := strconv.Atoi(filepath.Base(filepath.Dir(link))); err == nil {
			pids = append(pids, pid)
		}
	}
	return pids
}
