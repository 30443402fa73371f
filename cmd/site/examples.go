//go:build !js

package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"fmt"

	"ferrule/app/act"
	"ferrule/core/pipeline"
)

// examples works out the answer to each built-in session and tells pwa/first.js
// where it stands, by a name that bears its content.
func examples(files site) error {
	names := map[string]string{}
	for _, name := range pipeline.Examples {
		worked, err := pipeline.Worked(name, act.Seed)
		if err != nil {
			return fmt.Errorf("the example %s: %w", name, err)
		}
		sum := sha256.Sum256(worked)
		names[name] = fmt.Sprintf("/example/%s-%x.bin", name, sum[:6])
		files[names[name]] = worked
	}
	list, err := json.Marshal(names)
	files["/first.js"] = bytes.Replace(files["/first.js"], []byte("{{.Examples}}"), list, 1)
	return err
}
