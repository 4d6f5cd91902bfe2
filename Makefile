# Plumbline: everything there is to run. Needs Go and Node, nothing else.
.DEFAULT_GOAL := help
.PHONY: help run build release test wasm lint check bench browser

ADDR ?= localhost:8085
DATA ?= data
modules := static/node_modules/.package-lock.json

help: ## say what there is
	@awk -F ':.*## ' '/^[a-z]+:.*## / { printf "make %-9s %s\n", $$1, $$2 }' $(MAKEFILE_LIST)

run: build ## build and serve; prints the address (ADDR=0.0.0.0:8085 for other machines, DATA=folder)
	go run ./cmd/plumbline serve -addr $(ADDR) -data $(DATA)

build: $(modules) ## build the app into static/dist and sw/dist
	go run ./cmd/build

release: $(modules) ## build one program with the app in it, as small as can be: bin/plumbline
	go run ./cmd/build -release
	CGO_ENABLED=0 go build -trimpath -ldflags='-s -w' -o bin/plumbline ./cmd/plumbline

# npm writes this file last, so it says that the packages are the lock's.
$(modules): static/package.json static/package-lock.json
	cd static && npm ci --ignore-scripts
	@touch $@

# The core's rooms whose tests also run as WebAssembly, as on the phone. Not laps:
# its simulations take minutes there.
core := ./internal/unit ./internal/entry ./internal/book ./internal/chassis ./internal/diagnosis ./internal/archive ./internal/example ./internal/screen ./cmd/phonecore

test: build browser lint wasm ## everything: types, vet, static checks, race detector, properties, real browser
	go test -race -timeout 15m $$(go list ./... | grep -v internal/browsertest)
	go test -timeout 45m ./internal/browsertest

# In Node, which runs Go's WebAssembly as a browser does.
wasm: ## the core's tests as WebAssembly
	GOOS=js GOARCH=wasm go test -exec="$$(go env GOROOT)/lib/wasm/go_js_wasm_exec" -timeout 15m $(core)

lint: $(modules) ## formatting, types, vet, static checks
	@test -z "$$(gofmt -l cmd internal static/*.go sw/*.go)" || { echo 'Not gofmt-ed:'; gofmt -l cmd internal static/*.go sw/*.go; exit 1; }
	static/node_modules/.bin/tsc --noEmit -p static
	static/node_modules/.bin/tsc --noEmit -p sw
	go vet ./...
	GOOS=js GOARCH=wasm go vet ./cmd/phonecore
	go tool staticcheck ./...

bench: $(modules) browser ## everything that is measured: sizes, fold, diagnosis, server, cold start, kills (some minutes)
	go run ./cmd/build -release
	go test -run '^$$' -bench . -benchmem $$(go list ./... | grep -v internal/browsertest)
	GOOS=js GOARCH=wasm go test -exec="$$(go env GOROOT)/lib/wasm/go_js_wasm_exec" -run '^$$' -bench '10000|Twelve' ./cmd/phonecore ./internal/book ./internal/diagnosis
	go test -run '^$$' -bench ColdStart -benchtime 5x ./internal/browsertest
	PLUMBLINE_KILLS=1000 go test -count=1 -run Killed ./cmd/plumbline

# The browser tests drive a real Chromium. Where it is missing and we may, it
# is installed; else we say what to do.
browser:
	@found() { [ -n "$$CHROMIUM" ] || command -v chromium || command -v chromium-browser || command -v google-chrome; } >/dev/null; \
	found || { [ "$$(id -u)" = 0 ] && command -v apt-get >/dev/null && apt-get update -qq && \
		DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends chromium >/dev/null; }; \
	found || { \
		echo 'The browser tests need Chromium. It is not here, and this user could not install it.' >&2; \
		echo 'Install it (Debian: apt-get install chromium), or name one: CHROMIUM=/path/to/chromium make test' >&2; exit 1; }
