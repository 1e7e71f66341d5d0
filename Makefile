# Two commands do all the set-up: `make site` and `make test`.
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
# Hundreds of tests start a command; without bytecode each would compile the package anew
unexport PYTHONDONTWRITEBYTECODE

.PHONY: site test serve check lint messages bench lighthouse pictures lock chromium clean

site: $(VENV)/site-ready  ## Check every profile, build site/, say where to open it
	$(BIN)/sondebook check
	$(BIN)/sondebook build

test: $(VENV)/test-ready chromium lint  ## Run every check and every test
	$(BIN)/sondebook check
	$(BIN)/pytest -n auto --dist loadfile --no-loadscope-reorder -m "not alone"
	$(BIN)/pytest -m alone

serve: $(VENV)/site-ready  ## Preview with live reload
	$(BIN)/sondebook serve

check: $(VENV)/site-ready  ## Check every profile
	$(BIN)/sondebook check

lint: $(VENV)/test-ready  ## Format, lint, types, layers
	$(BIN)/ruff format --check .
	$(BIN)/ruff check .
	$(BIN)/mypy
	$(BIN)/lint-imports

messages: $(VENV)/test-ready  ## Write the message catalogue and its translations anew
	$(BIN)/python -m generator.messages

bench: $(VENV)/test-ready chromium  ## Measure the build and the pages; not part of the tests
	$(BIN)/python tests/bench/bench_build.py
	$(BIN)/python tests/bench/bench_pages.py

lighthouse: $(VENV)/test-ready chromium  ## Lighthouse's scores of the pages; needs Node.js
	$(BIN)/sondebook build
	$(BIN)/python tests/bench/lighthouse.py site

PICTURES ?= build/pictures
pictures: $(VENV)/test-ready chromium  ## Build the site and picture every kind of page, to look at
	$(BIN)/sondebook build
	$(BIN)/python tests/browser/pictures.py site $(PICTURES)

lock: $(VENV)/test-ready  ## Write the lock files anew from pyproject.toml
	$(BIN)/pip install --quiet pip-tools
	$(BIN)/pip-compile --quiet --strip-extras --no-emit-index-url --no-emit-find-links \
		--no-emit-trusted-host --no-header --output-file requirements.lock pyproject.toml
	$(BIN)/pip-compile --quiet --strip-extras --no-emit-index-url --no-emit-find-links \
		--no-emit-trusted-host --no-header --allow-unsafe --extra dev --output-file requirements-dev.lock pyproject.toml

chromium:  ## Make sure the browser tests have a browser, where that can be done
	@command -v chromium-headless-shell >/dev/null || command -v chromium >/dev/null \
		|| command -v chromium-browser >/dev/null || command -v google-chrome >/dev/null \
		|| { [ "$$(id -u)" = 0 ] && command -v apt-get >/dev/null \
			&& apt-get update -qq && apt-get install -y -qq --no-install-recommends \
				$$(apt-cache show chromium-headless-shell >/dev/null 2>&1 \
					&& echo chromium-headless-shell || echo chromium) fonts-dejavu-core >/dev/null; } \
		|| echo "No Chromium here: the browser tests will be skipped."

clean:  ## Delete what the other commands made
	rm -rf $(VENV) site

$(VENV)/bin/python:
	$(PYTHON) -m venv $(VENV)

$(VENV)/site-ready: $(VENV)/bin/python requirements.lock pyproject.toml
	$(BIN)/python -m pip install --quiet --disable-pip-version-check -r requirements.lock
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --no-deps -e .
	@touch $@

$(VENV)/test-ready: $(VENV)/site-ready requirements-dev.lock
	$(BIN)/python -m pip install --quiet --disable-pip-version-check -r requirements-dev.lock
	@touch $@
