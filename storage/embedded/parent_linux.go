package embedded

import "syscall"

// dieWithParent has the kernel stop the server (SIGINT is its fast, clean
// stop) when the program that started it dies, however it dies.
func dieWithParent(a *syscall.SysProcAttr) { a.Pdeathsig = syscall.SIGINT }
