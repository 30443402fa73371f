//go:build !(js && wasm)

package bridge

import "errors"

// startWorker has no browser to start a worker in: pages drawn by tests and by
// the site's writer ask nothing.
func startWorker(callbacks) (link, error) { return nil, errors.New("no browser") }
