# Two commands matter: `make run` and `make test`. Each sets up what is missing first; see tests/setup.

HOST ?= 127.0.0.1
PORT ?= 8080

# Folders are in the list too: their time stamps tell of files that are gone.
PAGE_SOURCES := $(shell find src style -not -name '.*' 2>/dev/null) \
    Cargo.toml Cargo.lock .cargo/config.toml Trunk.toml index.html \
    tests/setup/build.sh tests/setup/split.mjs tests/setup/seal.mjs tests/setup/tools.sh

.DEFAULT_GOAL := help
.PHONY: help run watch test engines check page bench doc clean

help: ## list these targets
	@awk -F ':.*## ' '/^[a-z]+:.*## / { printf "make %-7s %s\n", $$1, $$2 }' $(MAKEFILE_LIST)

run: ## build the release page and serve it at http://127.0.0.1:8080 (HOST=0.0.0.0 for a phone nearby, PORT=)
	@tests/setup/install.sh page
	@$(MAKE) --no-print-directory page
	@tests/setup/serve.sh "$(HOST)" "$(PORT)"

watch: ## build an unoptimised page after every change and reload it, at the same address
	@tests/setup/install.sh page
	@tests/setup/build.sh watch "$(HOST)" "$(PORT)"

test: ## run everything: formatting, clippy, documentation, native tests, release page, browser tests
	@tests/setup/test.sh

engines: ## run the main scenarios on Firefox and WebKitGTK as well
	@tests/setup/test.sh engines

check: ## the fast part of test, without the page
	@tests/setup/test.sh check

page: dist/.built
	@:

dist/.built: $(PAGE_SOURCES)
	@tests/setup/build.sh
	@touch $@

bench: ## weigh and time everything that has a budget (some minutes)
	@tests/setup/install.sh check page browser
	@$(MAKE) --no-print-directory page
	@tests/setup/first-load.sh || true
	@tests/bench/bench.sh
	@cd tests/bench && npm ci --loglevel=error --no-audit --no-fund >/dev/null && node lighthouse.mjs

doc: ## write the documentation to target/doc
	@tests/setup/cargo.sh doc --locked --workspace --no-deps

clean: ## remove what was built here (tools stay in the user's cache)
	@tests/setup/cargo.sh clean
	@rm -rf dist tests/browser/node_modules tests/bench/node_modules
