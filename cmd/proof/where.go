package main

import (
	"fmt"
	"os"
	"runtime"
	"strings"
	"time"
)

// where says when and on what kind of machine something was measured.
func where() string { return time.Now().Format("2006-01-02") + ", " + kind() }

func kind() string {
	cpu := runtime.GOARCH
	if text, err := os.ReadFile("/proc/cpuinfo"); err == nil {
		for _, line := range strings.Split(string(text), "\n") {
			if name, ok := strings.CutPrefix(line, "model name"); ok {
				cpu = strings.TrimSpace(strings.TrimLeft(name, "\t :"))
				break
			}
		}
	}
	load := "load unknown"
	if text, err := os.ReadFile("/proc/loadavg"); err == nil {
		load = "load " + strings.Fields(string(text))[0]
	}
	return fmt.Sprintf("%d cores (%s), %s, %s", runtime.NumCPU(), cpu, load, runtime.Version())
}
