package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// mutants are ten lines of core, each broken in a way that a slip could: a
// sign, a factor, a bound, an order. The tests of the packages named beside it
// must fail with it.
var mutants = []struct{ file, old, new, tests string }{
	{"core/frame/frame.go", "func (h Hand) Mirror(v float64) float64 { return h.Sign() * v }", "func (h Hand) Mirror(v float64) float64 { return v }", "./core/frame"},
	{"core/flight/aero.go", "decay:   e.Model.Decay * rho / air.Density0 / BallRadius", "decay:   e.Model.Decay * rho / air.Density0 / BallRadius / 2", "./core/flight"},
	{"core/club/sleeve.go", "b = -1 / math.Cos(h.Lie)", "b = 1 / math.Cos(h.Lie)", "./core/club ./core/impact"},
	{"core/impact/impact.go", "toe := vec{-math.Sin(face), 0, math.Cos(face)}", "toe := vec{math.Sin(face), 0, math.Cos(face)}", "./core/impact"},
	{"core/robust/robust.go", "const ToSigma = 1.4826", "const ToSigma = 2.4826", "./core/clean"},
	{"core/score/hole.go", "return 1 + p.Penalty + b.At(p.Lie, p.ToPin)", "return 1 + b.At(p.Lie, p.ToPin)", "./core/score"},
	{"core/decide/interval.go", "Lo80: q(.1), Hi80: q(.9)", "Lo80: q(.15), Hi80: q(.85)", "./core/decide"},
	{"core/units/number.go", "case point >= 0 && comma > point:", "case point >= 0 && comma < point:", "./core/units"},
	{"core/store/envelope.go", "return crc32.Update(crc32.ChecksumIEEE(h[:]), crc32.IEEETable, payload)", "return crc32.Update(0, crc32.IEEETable, payload)", "./core/store"},
	{"core/bayes/spd.go", "blas64.Trsm(blas.Left, blas.NoTrans, 1, c.tri()", "blas64.Trsm(blas.Left, blas.Trans, 1, c.tri()", "./core/bayes"},
}

// copyCode makes a copy of the code in dir.
func copyCode(dir string) error {
	if err := os.RemoveAll(dir); err != nil {
		return err
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	if out, err := exec.Command("cp", "-r", "core", "cmd", "app", "pwa", "testdata", "go.mod", "go.sum", dir).CombinedOutput(); err != nil {
		return fmt.Errorf("%w: %s", err, out)
	}
	return nil
}

// testCopy runs go test with args in a copy and returns the tests that fail. An
// error is a copy that does not build.
func testCopy(dir, args string) (failed []string, err error) {
	cmd := exec.Command("go", append([]string{"test"}, strings.Fields(args)...)...)
	cmd.Dir = dir
	out, err := cmd.CombinedOutput()
	for _, line := range strings.Split(string(out), "\n") {
		if strings.HasPrefix(line, "--- FAIL") {
			failed = append(failed, strings.Fields(line)[2])
		}
	}
	if err != nil && len(failed) == 0 {
		return nil, fmt.Errorf("%s", failures(string(out)))
	}
	return failed, nil
}

// broken breaks each line in a copy of the code and reports which slips the
// tests let pass.
func broken() error {
	const copied = "build/mutants"
	if err := copyCode(copied); err != nil {
		return err
	}
	passed := 0
	for _, m := range mutants {
		name := filepath.Join(copied, m.file)
		text, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		if n := bytes.Count(text, []byte(m.old)); n == 0 {
			return fmt.Errorf("%s has no %q any more: choose another line to break", m.file, m.old)
		}
		if err := os.WriteFile(name, bytes.Replace(text, []byte(m.old), []byte(m.new), 1), 0o644); err != nil {
			return err
		}
		failed, err := testCopy(copied, m.tests)
		switch {
		case err != nil:
			return fmt.Errorf("%s: the broken copy does not run: %w", m.file, err)
		case len(failed) == 0:
			passed++
			fmt.Printf("NOT CAUGHT  %s: %s\n", m.file, m.new)
		default:
			fmt.Printf("caught      %-26s by %s\n", m.file, failed[0])
		}
		if err := os.WriteFile(name, text, 0o644); err != nil {
			return err
		}
	}
	if passed > 0 {
		return fmt.Errorf("%d of %d broken lines pass the tests", passed, len(mutants))
	}
	fmt.Printf("all %d broken lines are caught\n", len(mutants))
	return nil
}
