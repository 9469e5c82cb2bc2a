# make demo and make test do all the set-up on a machine that has Go.

GO  ?= go
BIN := bin/lanewright

# The linter has a module of its own, so that its many libraries are not ours.
LINT := $(GO) tool -modfile=.ci/lint/go.mod golangci-lint

SKERROW := testdata/plants/skerrow/skerrow.xlsx
GODIRS  := api cmd importers migrations planner storage testdata

.DEFAULT_GOAL := help
.PHONY: help demo test build fmt check-format vet lint generate check-generated check-mod deps clean

help: ## this list
	@awk -F ':.*## ' '/^[a-z-]+:.*## / { printf "  make %-16s %s\n", $$1, $$2 }' $(MAKEFILE_LIST)

demo: ## the made-up plant, planned and served; ARGS="--addr :9000" passes options
	@test -n "$$DATABASE_URL" || .ci/deps postgres
	@$(MAKE) --no-print-directory build
	@exec ./$(BIN) demo $(ARGS)

test: deps ## every test, those on a real Postgres and in a real browser included
	$(GO) test -timeout 30m $(TESTFLAGS) ./...

build: ## bin/lanewright
	$(GO) build -trimpath -buildvcs=false -o $(BIN) ./cmd/lanewright

deps: ## what the tests need beside Go: Postgres, Chromium, a solver and a reader of documents
	@.ci/deps postgres chromium solver reader

fmt: ## format the code
	gofmt -w $(GODIRS)

check-format: ## fail when a file is not formatted
	@bad=$$(gofmt -l $(GODIRS)); \
	test -z "$$bad" || { echo "not formatted (make fmt does it):"; echo "$$bad"; exit 1; }

vet: ## go vet
	$(GO) vet ./...

lint: ## golangci-lint; its first build takes minutes
	$(LINT) run

check-mod: ## fail when go.mod does not say what the code imports
	$(GO) mod tidy -diff

generate: ## make the files again that a program of this repository writes
	$(GO) run ./cmd/lanebench skerrow --out $(SKERROW)

check-generated: ## fail when a generated file is not current
	@dir=$$(mktemp -d) && trap 'rm -rf "$$dir"' EXIT && \
	$(GO) run ./cmd/lanebench skerrow --out "$$dir/skerrow.xlsx" >/dev/null && \
	cmp "$$dir/skerrow.xlsx" $(SKERROW) || { echo "$(SKERROW) is not current: run make generate"; exit 1; }

clean: ## remove what was built
	rm -rf bin
