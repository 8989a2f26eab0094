# On a machine with Rust and Python, two commands are enough: `make demo` and `make test`.
# Nothing but cargo and pip uses the network.

PYTHON ?= python3
VENV ?= .venv

PY := $(VENV)/bin/python
WHEELS := target/wheels
CARGO_FOLDER := $(abspath $(or $(CARGO_HOME),$(HOME)/.cargo))
PIP := $(PY) -m pip --disable-pip-version-check --quiet --no-input
# The features of the core crate, read from its manifest so that a new one is checked too.
FEATURES := $(shell sed -n '/^\[features\]/,/^\[dep/s/^\([a-z_-]*\) = .*/\1/p' Cargo.toml)
# Time for each fuzz target.
SECONDS ?= 60
NOTEBOOKS := $(wildcard notebooks/*.ipynb)

export MPLBACKEND ?= Agg

.DEFAULT_GOAL := help
.NOTPARALLEL:
.DELETE_ON_ERROR:

.PHONY: help
help: ## Show the targets
	@sed -n 's/^\([a-z-]*\):.*## \(.*\)/\1: \2/p' $(MAKEFILE_LIST)

.PHONY: demo
demo: install-demo ## Build everything and run the demonstration
	$(PY) notebooks/run_demo.py

.PHONY: test
test: fmt clippy doc test-rust features package wheel wheel-check install test-python stubtest ruff notebooks docs sdist ## Install what is needed and run every test
	@echo "The checks on measured readings were not run: make test-measured DATA=<folder of readings> runs them."

# ---- Rust

.PHONY: fmt
fmt: ## Check the format of the Rust source
	cargo fmt --all --check

.PHONY: clippy
clippy: ## Lint all targets with all features
	cargo clippy --workspace --all-targets --all-features -- -D warnings

.PHONY: doc
doc: ## Build the Rust documentation
	RUSTDOCFLAGS="-D warnings" cargo doc --workspace --all-features --no-deps

.PHONY: test-rust
test-rust: ## Run the Rust tests and documentation tests
	cargo test --workspace --all-features

.PHONY: robust
robust: ## Run millions of random states through every pair: INTERSTAGE_SEED=<n>, INTERSTAGE_CASES=<n>
	cargo test --release --package interstage --test robustness -- --ignored --nocapture

.PHONY: fuzz
fuzz: ## Run every fuzz target for SECONDS=<n> each, on from the inputs found before; needs cargo-fuzz
	@command -v cargo-fuzz >/dev/null || { echo "cargo-fuzz is missing: cargo install cargo-fuzz" >&2; exit 1; }
	set -e; for target in $$(sed -n 's|^path = "fuzz_targets/\(.*\)[.]rs"|\1|p' fuzz/Cargo.toml); do \
		RUSTC_BOOTSTRAP=1 cargo fuzz run --sanitizer none "$$target" -- \
			-max_total_time=$(SECONDS) -timeout=30 -print_final_stats=1; \
	done

.PHONY: features
features: ## Check the core crate without features and with each feature alone
	set -e; for feature in "" $(FEATURES); do \
		echo "feature: $${feature:-none}"; \
		cargo clippy --quiet --package interstage --no-default-features --features "$$feature" -- -D warnings; \
	done

.PHONY: package
package: ## Build the core crate from what its package would contain
	cargo package --quiet --package interstage --allow-dirty

# ---- Python

$(VENV)/.made:
	$(PYTHON) -m venv $(VENV)
	$(PIP) install "maturin>=1.16,<2"
	touch $@

.PHONY: wheel
wheel: $(VENV)/.made ## Build the wheel into target/wheels, without a trace of where it was built
	rm -f $(WHEELS)/*.whl
	cargo fetch --quiet
	remap="--remap-path-prefix=$(CARGO_FOLDER)=cargo --remap-path-prefix=$(CURDIR)=interstage"; \
	for crates in $(CARGO_FOLDER)/registry/src/*/; do \
		remap="$$remap --remap-path-prefix=$${crates%/}=crates"; \
	done; \
	RUSTFLAGS="$$RUSTFLAGS $$remap" $(PY) -m maturin build --release --interpreter $(PY) --out $(WHEELS)
	@$(PY) -c "import sys, zipfile; wheel = zipfile.ZipFile(sys.argv[1]); \
		found = [(n, p) for n in wheel.namelist() for p in sys.argv[2:] if p.encode() in wheel.read(n)]; \
		sys.exit(f'the wheel names folders of this machine: {found}' if found else 0)" \
		$(WHEELS)/*.whl "$(CARGO_FOLDER)" "$(CURDIR)"

.PHONY: wheel-check
wheel-check: wheel ## Install the wheel where there is no Rust, solve a cycle and draw a diagram
	rm -rf target/wheel-venv
	$(PYTHON) -m venv target/wheel-venv
	PATH=/nowhere target/wheel-venv/bin/python -m pip --disable-pip-version-check --quiet --no-input install \
		--only-binary :all: "$$(echo $(WHEELS)/*.whl)[plot]"
	cd target && PATH=/nowhere wheel-venv/bin/python -I ../tests/wheel_check.py $(abspath $(WHEELS))

.PHONY: install-demo
install-demo: wheel
	$(PIP) install --force-reinstall --no-deps $(WHEELS)/*.whl
	$(PIP) install "$$(echo $(WHEELS)/*.whl)[pandas,polars,plot,notebook,trend]"

.PHONY: install
install: install-demo ## Install the wheel and the tools of the tests into the virtual environment
	$(PIP) install "$$(echo $(WHEELS)/*.whl)[dev]"

.PHONY: test-python
test-python: install ## Run the Python tests, and the examples in docstrings, on the installed wheel
	$(PY) -m pytest
	$(PY) -m pytest --doctest-modules --pyargs interstage

.PHONY: validate
validate: install ## Recompute every printed value and the comparison, write tests/VALIDATION.md
	PYTHONPATH=tests $(PY) -m validation

.PHONY: stubtest
stubtest: install ## Compare the type stubs with the installed package
	$(PY) -m mypy.stubtest --mypy-config-file pyproject.toml interstage

.PHONY: ruff
ruff: install ## Lint the Python source and check its format
	$(PY) -m ruff check
	$(PY) -m ruff format --check

.PHONY: notebooks
notebooks: install ## Execute the notebooks and compare each with its script
	@test -n "$(NOTEBOOKS)" || { echo "no notebook found in notebooks/" >&2; exit 1; }
	set -e; for notebook in $(NOTEBOOKS); do \
		$(PY) -m jupytext --quiet --to py:percent --output - "$$notebook" | diff -u - "$${notebook%.ipynb}.py"; \
	done
	rm -rf target/notebooks
	$(PY) -m nbconvert --to notebook --execute --output-dir target/notebooks $(NOTEBOOKS)
	@! grep -H '"name": "stderr"' target/notebooks/*.ipynb || { echo "a notebook wrote a warning" >&2; exit 1; }

.PHONY: store-notebooks
store-notebooks: install ## Execute the notebooks from their scripts and store them with small outputs
	MPLBACKEND=module://matplotlib_inline.backend_inline $(PY) notebooks/store_outputs.py

.PHONY: docs
docs: install ## Build the documentation of the package into target/docs/html, every warning an error
	$(PIP) install "$$(echo $(WHEELS)/*.whl)[docs]"
	$(PY) python/docs/build.py

.PHONY: sdist
sdist: $(VENV)/.made ## Build the source distribution, install it elsewhere and import it
	rm -rf target/sdist target/sdist-venv
	$(PY) -m maturin sdist --out target/sdist
	$(PYTHON) -m venv target/sdist-venv
	CARGO_TARGET_DIR="$(CURDIR)/target/sdist-build" target/sdist-venv/bin/python -m pip \
		--disable-pip-version-check --quiet --no-input install target/sdist/*.tar.gz
	target/sdist-venv/bin/python -I -c "import importlib.metadata as m, interstage, interstage._core as c; \
		assert c.__version__ == m.version('interstage'), c.__version__; print('sdist:', c.__file__)"

# ---- Checks on measured readings, which are not part of the repository

.PHONY: check-data
check-data:
	@test -n "$(DATA)" || { echo "DATA is missing: make test-measured DATA=<folder of readings>" >&2; exit 1; }
	@test -d "$(DATA)" || { echo "DATA=$(DATA) is not a folder" >&2; exit 1; }
	@test -n "$$(find "$(DATA)" -maxdepth 1 -name '*.csv' -size +0)" || \
		{ echo "DATA=$(DATA) holds no readings (*.csv)" >&2; exit 1; }

.PHONY: test-measured
test-measured: check-data install ## Run the checks on measured readings: DATA=<folder of readings>
	INTERSTAGE_MEASURED_DATA="$$(cd "$(DATA)" && pwd)" cargo test --workspace --all-features --test measured -- --ignored
	INTERSTAGE_MEASURED_DATA="$$(cd "$(DATA)" && pwd)" $(PY) -m pytest tests/measured

# ---- The rest

.PHONY: bench
bench: ## Run the benchmarks
	cargo bench --package interstage --all-features --bench properties --bench cycles

.PHONY: bench-reference
bench-reference: install ## Time this package and the general-purpose library, print the table of ratios
	cargo bench --package interstage --bench properties --bench cycles --features trend -- \
		--noplot '^(R-134a|R-123|R-1233zd\(E\)|R-1234ze\(E\)|R-718)/G'
	$(PY) benches/against_reference.py
	$(PY) benches/mixtures_against_reference.py

.PHONY: instructions
instructions: ## Count the instructions of a call by valgrind
	@command -v valgrind >/dev/null || { echo "valgrind is missing: apt-get install valgrind" >&2; exit 1; }
	RUSTFLAGS="-C target-cpu=x86-64-v3" cargo bench --package interstage --bench instructions \
		--target-dir "$${CARGO_TARGET_DIR:-target}/instructions"

.PHONY: clean
clean: ## Remove everything that was built, and the virtual environment
	rm -rf target $(VENV) .mypy_cache .pytest_cache .ruff_cache .hypothesis
