# Ferrule. `make help` lists the targets.
# Needs Go and make; the browser test also Chromium, which it installs on
# Debian when it may.

GO      ?= go
ADDR    ?= localhost:8080
LDFLAGS := -s -w
# The browser's programs fetch the words of a language that is not English.
TAGS    := -tags fetched
WASM    := GOOS=js GOARCH=wasm $(GO) build -trimpath $(TAGS) -ldflags='$(LDFLAGS)'
GOROOT_ := $(shell $(GO) env GOROOT)
# The site is compressed as far as brotli goes, a minute of the processor for a seventh
# fewer bytes; QUICK=1 is what the tests and `make run` build.
build run: QUICK ?= 1
SITEFLAGS = $(if $(QUICK),-quick) $(if $(BEFORE),-before $(BEFORE))

.DEFAULT_GOAL := help
.PHONY: start-list browsers exercise gains fields house proof proof-write proof-check speed speed-write slow crosscheck growth same mutants lint deadcode help run faults site slim page worker ferrule single test check format vet unit wasm-test build browser frames screens gallery lighthouse size chromium fuzz bench read-bench clean

help: ## list the targets
	@awk -F ':.*## ' '/^[a-z-]+:.*## / { printf "  %-12s %s\n", $$1, $$2 }' $(MAKEFILE_LIST)

run: site ferrule ## build everything, serve it and print the address (ADDR=:8080 for phones)
	build/ferrule serve -addr $(ADDR) -dir build/site

site: page worker ## write the static site to build/site (QUICK=1: in seconds, a sixth larger; BEFORE=FOLDER of the site that is out there: with differences to it)
	$(GO) run ./cmd/site -exec $(GOROOT_)/lib/wasm/wasm_exec.js $(SITEFLAGS)

slim: ## write to build/slim what the programs of the browser are built on: lighter forms of go-app, archive/zip and net/url
	$(GO) run ./cmd/slimdeps

# Both programs are trimmed afterwards (cmd/trim): the same program, a seventh lighter.
# The page is built on go-app without its server half (cmd/slimdeps) and without
# inlining: it waits for taps, and inlined code is a tenth of its brotli bytes.
# `go build ./cmd/page` works too and is only bigger.
PAGE = $(WASM) -modfile build/slim/go.mod -overlay build/slim/overlay.json -gcflags=all=-l
page: slim ## build the program of the screens
	@rm -f build/page.wasm # else go build leaves it as it was trimmed, with the list of then
	$(PAGE) -o build/page.wasm ./cmd/page
	$(GO) run ./cmd/trim -start cmd/page/start.txt build/page.wasm

# What a start calls is compiled by a worker before it is called (cmd/trim/start.go).
# The list need not be whole: what it lacks is compiled when it is called.
start-list: chromium build ## write anew which functions the starts of the pages call, for the page to have them compiled beforehand
	$(PAGE) -o build/marked.wasm ./cmd/page
	$(GO) run ./cmd/trim -mark build/marked.wasm
	cd app/browsertest && $(GO) test -count=1 -v -run TestWhatAStartCalls ./... -args -marked ../../build/marked.wasm -calls ../../build/calls -site ../../build/site -ferrule ../../build/ferrule
	$(PAGE) -o build/marked.wasm ./cmd/page
	$(GO) run ./cmd/trim -called build/calls -start cmd/page/start.txt build/marked.wasm

# The analysis keeps inlining where it computes; all else (readers, sheet,
# decoders, the standard library) is built without, for a tenth fewer bytes; its
# archive/zip reads and does not write (cmd/slimdeps).
COLD := -gcflags=all=-l $(foreach p,runtime internal/runtime/... math math/bits math/rand/v2 internal/chacha8rand slices \
	ferrule/core/air ferrule/core/bayes ferrule/core/decide ferrule/core/flight ferrule/core/frame ferrule/core/impact ferrule/core/linear \
	ferrule/core/predict ferrule/core/score ferrule/core/seed,-gcflags=$(p)=)

worker: slim ## build the analysis program
	$(WASM) -overlay build/slim/overlay.json $(COLD) -o build/worker.wasm ./cmd/worker
	$(GO) run ./cmd/trim build/worker.wasm

ferrule: ## build the command line
	@mkdir -p build
	$(GO) build -trimpath -o build/ferrule ./cmd/ferrule

single: site ## build/single/ferrule: the command line with the site in it, one file to copy
	@rm -rf cmd/ferrule/site && mkdir -p build/single && cp -r build/site cmd/ferrule/site
	@for f in $$(find cmd/ferrule/site -name '*.gz'); do rm -f "$${f%.gz}"; done # unpacked when asked for
	$(GO) test -tags site -count=1 -run TestTheSiteIsBuiltIn ./cmd/ferrule
	$(GO) build -trimpath -tags site -ldflags='$(LDFLAGS)' -o build/single/ferrule ./cmd/ferrule
	@rm -rf cmd/ferrule/site && ls -l build/single/ferrule

test: format vet deadcode unit lint wasm-test build browser ## everything that CI runs
	@echo "make test: all passed"

check: format vet fields unit ## the quick part of test

format: ## every Go file is gofmt's
	@files=$$(gofmt -l app cmd core testdata 2>/dev/null); if [ -n "$$files" ]; then echo "not formatted (run gofmt -w):"; echo "$$files"; exit 1; fi

vet: ## vet for this machine and for the browser
	$(GO) vet ./...
	GOOS=js GOARCH=wasm $(GO) vet ./...
	cd app/browsertest && $(GO) vet ./... && $(GO) vet -tags browsers ./...

fields: ## no field of a struct that no program sets or reads; go.mod as go mod tidy writes it
	$(GO) run ./cmd/lint
	$(GO) mod tidy -diff
	cd app/browsertest && $(GO) mod tidy -diff

house: ## print lines, exported names, the largest receivers and the longest functions
	@$(GO) run ./cmd/lint -measure

unit: ## the tests of every package on this machine
	$(GO) test ./...

wasm-test: ## the tests of core and of app/kept compiled to WebAssembly, where node is there to run them
	@if command -v node >/dev/null 2>&1; then \
		echo "core and app/kept as WebAssembly under $$(node --version)"; \
		GOOS=js GOARCH=wasm $(GO) test -timeout 30m -exec "$(GOROOT_)/lib/wasm/go_js_wasm_exec" $$($(GO) list ./core/... ./app/kept | grep -v '^ferrule/core$$'); \
	else \
		echo "SKIPPED: the tests of core as WebAssembly need node, which is not installed"; \
	fi

proof: ## print the published, measured and certified figures beside ours
	@$(GO) run ./cmd/proof

proof-write: ## bring the figures in testdata/proof/README.md and in the app up to date (read the difference)
	$(GO) run ./cmd/proof -write

proof-check: ## fail when a shown figure is not what the tests print
	$(GO) run ./cmd/proof -check

crosscheck: ## rerun R (lme4, emmeans) and scipy and compare (installs them where it may)
	GO=$(GO) cmd/proof/crosscheck.sh

growth: ## time and memory as shots and settings grow a hundredfold
	$(GO) run ./cmd/proof -growth

same: chromium build ## the same report from 100 seeded sessions: native, under node, in Chromium
	$(GO) test ./core/pipeline -count=1 -run TheSameReport -v -args -sessions 100
	GOMAXPROCS= GOOS=js GOARCH=wasm $(GO) test ./core/pipeline -count=1 -timeout 30m -exec "$(GOROOT_)/lib/wasm/go_js_wasm_exec" -run TheSameReport -v -args -sessions 100
	cd app/browsertest && $(GO) test -count=1 -v -timeout 30m -run TheSameReport ./... -args -site ../../build/site -ferrule ../../build/ferrule -sessions 100

mutants: ## break ten lines of core, one at a time; the tests must notice
	$(GO) run ./cmd/proof -mutants

exercise: ## add a column, a dialect and a language in a copy, first by half; the tests must notice
	$(GO) run ./cmd/proof -exercise

# Both tools by exact version, run without being kept: they are no dependency.
STATICCHECK := honnef.co/go/tools/cmd/staticcheck@v0.8.2
DEADCODE    := golang.org/x/tools/cmd/deadcode@v0.52.0

# Built for this machine first: run for the browser, they would be WebAssembly.
# staticcheck takes minutes of processor time where nothing is kept: it is no part of test.
lint: fields ## fields, and staticcheck of what runs here and in the browser
	@GOBIN=$(CURDIR)/build/tools $(GO) install $(STATICCHECK)
	build/tools/staticcheck ./...
	GOOS=js GOARCH=wasm build/tools/staticcheck ./app/... ./cmd/page ./cmd/worker

# Only tests use these, of several packages: the club and the style sheet that
# they share.
TESTED := core/club/example.go.* Example$$|core/chart/theme.go.* CSS$$

deadcode: ## no function that neither program here nor in the browser reaches
	@GOBIN=$(CURDIR)/build/tools $(GO) install $(DEADCODE)
	@build/tools/deadcode ./cmd/... | sort > build/dead.here
	@GOOS=js GOARCH=wasm build/tools/deadcode -tags fetched ./cmd/page ./cmd/worker | sort > build/dead.browser
	@if comm -12 build/dead.here build/dead.browser | grep -Ev '$(TESTED)'; then echo "deadcode: remove these or move them to the tests"; exit 1; fi
	@echo "deadcode: nothing"

size: slim ## what the built programs weigh, by package and in brotli bytes
	@mkdir -p build/named
	GOOS=js GOARCH=wasm $(GO) build -trimpath $(TAGS) -modfile build/slim/go.mod -overlay build/slim/overlay.json -gcflags=all=-l -o build/named/page.wasm ./cmd/page
	GOOS=js GOARCH=wasm $(GO) build -trimpath $(TAGS) -overlay build/slim/overlay.json $(COLD) -o build/named/worker.wasm ./cmd/worker
	$(GO) run ./cmd/weigh -brotli 0 build/named/page.wasm build/named/worker.wasm
	$(GO) run ./cmd/weigh -top 0 -brotli 11 build/page.wasm build/worker.wasm

# GAINS builds both programs with one trick left out at a time.
GAINS := build/gains
gains: page worker ## print what each trick that makes the programs lighter takes off, in brotli bytes of quality 9
	@rm -rf $(GAINS) && mkdir -p $(GAINS)
	@$(WASM) -modfile build/slim/go.mod -overlay build/slim/overlay.json -gcflags=all=-l -o $(GAINS)/page-untrimmed.wasm ./cmd/page
	@cp $(GAINS)/page-untrimmed.wasm $(GAINS)/page-with-its-tables.wasm && $(GO) run ./cmd/trim -tables=false $(GAINS)/page-with-its-tables.wasm
	@$(WASM) -overlay build/slim/overlay.json -gcflags=all=-l -o $(GAINS)/page-whole-go-app.wasm ./cmd/page && $(GO) run ./cmd/trim $(GAINS)/page-whole-go-app.wasm
	@$(WASM) -modfile build/slim/go.mod -overlay build/slim/overlay.json -o $(GAINS)/page-inlined.wasm ./cmd/page && $(GO) run ./cmd/trim $(GAINS)/page-inlined.wasm
	@$(WASM) -overlay build/slim/overlay.json $(COLD) -o $(GAINS)/worker-untrimmed.wasm ./cmd/worker
	@cp $(GAINS)/worker-untrimmed.wasm $(GAINS)/worker-with-its-tables.wasm && $(GO) run ./cmd/trim -tables=false $(GAINS)/worker-with-its-tables.wasm
	@$(WASM) $(COLD) -o $(GAINS)/worker-whole-zip.wasm ./cmd/worker && $(GO) run ./cmd/trim $(GAINS)/worker-whole-zip.wasm
	@$(WASM) -overlay build/slim/overlay.json -o $(GAINS)/worker-inlined.wasm ./cmd/worker && $(GO) run ./cmd/trim $(GAINS)/worker-inlined.wasm
	@$(GO) run ./cmd/weigh -top 0 -against build/page.wasm build/page.wasm $(GAINS)/page-*.wasm
	@$(GO) run ./cmd/weigh -top 0 -against build/worker.wasm build/worker.wasm $(GAINS)/worker-*.wasm

build: site ferrule ## build all programs and the site

# SLOW are browser tests of minutes: every screen in every theme, size and
# language, a season of balls, and the ends at random moments.
SLOW := TestEveryScreen|TestSixThousandBalls|TestTheAppIsKilled|TestTheEditorThatIsKilled

browser: chromium build ## drive the app in a real browser
	cd app/browsertest && $(GO) test -count=1 -timeout 45m -skip '$(SLOW)' ./... -args -site ../../build/site -ferrule ../../build/ferrule

slow: chromium build ## the browser tests that take minutes, apart from CI
	cd app/browsertest && $(GO) test -count=1 -timeout 60m -run '$(SLOW)' ./... -args -site ../../build/site -ferrule ../../build/ferrule

# KILLS is how often the app, and the editor of the store, is ended while it saves.
KILLS ?= 200

# FAULTS is how long things go wrong at random; CI has a taste of it.
FAULTS ?= 10m

faults: chromium build ## end the app at KILLS random moments of editing, and let things go wrong for FAULTS, in a real browser (long)
	cd app/browsertest && $(GO) test -count=1 -v -timeout 240m -parallel 4 -run 'TestTheAppIsKilled|TestTheEditorThatIsKilled|TestFaults' ./... -args -site ../../build/site -ferrule ../../build/ferrule -kills $(KILLS) -page-kills $(KILLS) -faults $(FAULTS)

# A first visit and an offline start on a slow network and processor, and what
# an analysis takes in the browser's worker. QUICK= : of the smallest files.
speed: chromium build ## print the times of a first visit, an offline start and an analysis, with this machine's kind
	@$(GO) run ./cmd/proof -where
	@rm -f build/figures.json
	cd app/browsertest && $(GO) test -count=1 -v -timeout 15m -run TestSpeed ./... -args -speed -figures ../../build/figures.json -site ../../build/site -ferrule ../../build/ferrule

speed-write: ## measure them for the smallest files and bring machine.json, the proof and the app up to date
	$(MAKE) QUICK= speed
	$(GO) run ./cmd/proof -machine build/figures.json
	$(GO) run ./cmd/proof -write

# FRAMES is how often each page is measured.
FRAMES ?= 3

frames: chromium build ## how long the screen stands still while 60 shots and 80 settings are analysed
	@$(GO) run ./cmd/proof -where
	cd app/browsertest && $(GO) test -count=1 -v -timeout 15m -run 'TestFrames$$' ./... -args -frames $(FRAMES) -site ../../build/site -ferrule ../../build/ferrule

screens: chromium build ## write pictures of every screen to testdata/screens
	cd app/browsertest && $(GO) test -count=1 -timeout 15m -run TestScreens ./... -args -site ../../build/site -ferrule ../../build/ferrule -screens ../../testdata/screens

gallery: chromium build ## write whole-page pictures of every screen, size, theme and state to build/gallery
	cd app/browsertest && $(GO) test -count=1 -timeout 25m -run TestEveryScreen ./... -args -site ../../build/site -ferrule ../../build/ferrule -gallery ../../build/gallery

lighthouse: chromium build ## measure two pages with Lighthouse (needs node; its figures depend on the machine)
	cd app/browsertest && $(GO) test -count=1 -v -timeout 15m -tags lighthouse -run TestLighthouse ./... -args -site ../../build/site -ferrule ../../build/ferrule

# Debian's packages: Firefox speaks for itself, WebKit through its driver on a screen that nobody sees.
browsers: build ## go the main way in Firefox and WebKit (installs Debian's where it may; what is missing is skipped and said)
	@if [ "$$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1 && ! { command -v firefox-esr && command -v WebKitWebDriver && command -v Xvfb; } >/dev/null 2>&1; then \
		echo "installing Debian's firefox-esr, webkit2gtk-driver and xvfb"; apt-get update -qq && DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends firefox-esr webkit2gtk-driver xvfb >/dev/null; \
	fi
	cd app/browsertest && $(GO) test -count=1 -v -timeout 15m -tags browsers -run TestOtherBrowsers ./... -args -site ../../build/site -ferrule ../../build/ferrule

chromium: ## find Chromium, or install Debian's where that is allowed
	@if command -v chromium >/dev/null 2>&1 || command -v chromium-browser >/dev/null 2>&1 || command -v google-chrome >/dev/null 2>&1; then :; \
	elif [ "$$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1; then \
		echo "installing Debian's chromium"; apt-get update -qq && DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends chromium >/dev/null; \
	else \
		echo "The browser test needs Chromium: install it (Debian: apt-get install chromium, as root) and run make again." >&2; exit 1; \
	fi

# package:target of every fuzz test; FUZZ is how many executions each.
FUZZERS := core/share:FuzzDecode core/store:FuzzDecode core/store:FuzzPayload core/shotfile:FuzzRead
FUZZ    ?= 100000x

# NODE runs a test that was compiled to WebAssembly, without this machine's
# variables. LEAST is of the runs that others on the machine added least to.
NODE := env -i PATH="$$PATH" HOME="$$HOME" "$(GOROOT_)/lib/wasm/go_js_wasm_exec"
LEAST := awk 'function least(a, n, v) { if (!(n in a) || v < a[n]) a[n] = v } \
	/^Benchmark/ { n = $$1; k[n]++; for (i = 2; i < NF; i++) { u = $$(i + 1); if (u == "ns/op") least(t, n, $$i / 1e6); if (u == "cpu-ms/op") least(c, n, $$i); if (u == "allocs/op") m[n] = $$i } } \
	END { for (n in t) printf "%-42s %6.1f ms of processor time, %6.1f ms passed, least of %d runs; %d allocations\n", n, c[n], t[n], k[n], m[n] }'

bench: ## the time of the fit, of 80 settings scored with the next test, and of a whole analysis, as WebAssembly under node
	@mkdir -p build
	@GOOS=js GOARCH=wasm $(GO) test -c -o build/bench.wasm ./core/pipeline
	@cd core/pipeline && $(NODE) ../../build/bench.wasm -test.run '^$$' -test.bench '^Benchmark(Fit|Decide|Analyse)$$' -test.benchtime 5x -test.count 15 -test.benchmem | $(LEAST)

read-bench: ## the seconds that the worker takes for a file of 10,000 shots, as WebAssembly under node
	@mkdir -p build
	GOOS=js GOARCH=wasm $(GO) test -c -o build/read-bench.wasm ./core/pipeline
	cd core/pipeline && $(NODE) ../../build/read-bench.wasm -test.run '^$$' -test.bench Read10000 -test.benchtime 5x

fuzz: ## feed random input to every decoder (FUZZ=10000000x for long)
	@for f in $(FUZZERS); do \
		echo "$$f, $(FUZZ)"; \
		nice $(GO) test "./$${f%%:*}" -run '^$$' -fuzz "^$${f##*:}\$$" -fuzztime $(FUZZ) || exit 1; \
	done

clean: ## remove what was built
	rm -rf build
