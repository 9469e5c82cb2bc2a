//go:build darwin || freebsd

package embedded

import (
	"os/exec"
	"strconv"
	"strings"
)

// serversOn returns the main process of a server on data when it lives: its
// command names data, which that of a stranger with the same number does not.
func serversOn(data string, main int) []int {
	if main <= 0 {
		return nil
	}
	out, err := exec.Command("ps", "-o", "stat=,command=", "-p", strconv.Itoa(main)).Output()
	line := strings.TrimSpace(string(out))
	if err != nil || strings.HasPrefix(line, "Z") || !strings.Contains(line, data) {
		return nil
	}
	return []int{main}
}
