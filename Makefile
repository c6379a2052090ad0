# SPDX-License-Identifier: GPL-3.0-or-later
# Strandwise: make, make check, make install. `make help` lists every target.

VERSION := 0.1.0

CC       ?= cc
PREFIX   ?= /usr/local
bindir   ?= $(PREFIX)/bin
mandir   ?= $(PREFIX)/share/man
datadir  ?= $(PREFIX)/share
docdir   ?= $(datadir)/doc/strandwise
INSTALL  ?= install
PKG_CONFIG ?= pkg-config

B := build

# As many files at once as there are cores, unless the caller has said -j, or is make.
ifeq ($(MAKELEVEL)$(filter -j%,$(MAKEFLAGS)),0)
MAKEFLAGS += -j$(shell nproc 2>/dev/null || echo 1)
endif

# A short line for each file made; V=1 shows the commands.
V ?=
Q  = $(if $(V),,@echo '  $(1) $@';)

CFLAGS   ?= -O2 -g
WARN     := -Wall -Wextra -Wpedantic -Wconversion -Wsign-conversion -Wshadow -Wdouble-promotion \
            -Wformat=2 -Wstrict-prototypes -Wmissing-prototypes -Wvla -Wundef -Wcast-qual \
            -Wwrite-strings -Wfloat-equal
HARDEN   ?= -D_FORTIFY_SOURCE=2 -fstack-protector-strong -fPIE
LINKHARD ?= -pie -Wl,-z,relro,-z,now,--as-needed
STD      := -std=c11 -ffp-contract=off -ffile-prefix-map='$(CURDIR)'=.
DEFS     := -D_POSIX_C_SOURCE=200809L -DSTRANDWISE_VERSION='"$(VERSION)"'

PKG_CFLAGS := $(shell $(PKG_CONFIG) --cflags gsl libpng cairo 2>/dev/null)
PKG_LIBS   := $(shell $(PKG_CONFIG) --libs gsl libpng cairo 2>/dev/null || echo -lgsl -lgslcblas -lm -lpng -lcairo)
LIBS       := -liniparser $(PKG_LIBS) -lm

ALL_CPPFLAGS := -Isrc -I$(B)/gen $(DEFS) $(PKG_CFLAGS) $(CPPFLAGS)
ALL_CFLAGS   := $(STD) $(WARN) $(HARDEN) $(CFLAGS)

# Table texts are turned into C by the helper beside them; main.c is linked into the program alone.
HELPERS  := src/base/embed.c
SOURCES  := $(filter-out $(HELPERS) src/app/main.c,$(wildcard src/*.c src/*/*.c src/*/*/*.c))
OBJECTS  := $(SOURCES:src/%.c=$(B)/src/%.o) $(B)/gen/tables_text.o
# The library of src/strandwise.h: all but the command line.
CORE     := $(filter-out $(B)/src/app/%,$(OBJECTS))
MAIN     := $(B)/src/app/main.o
TABLES   := $(sort $(wildcard tables/*.csv))

TEST_SOURCES := $(wildcard tests/unit/*.c tests/unit/*/*.c)
TEST_OBJECTS := $(TEST_SOURCES:tests/unit/%.c=$(B)/tests/%.o)

.DELETE_ON_ERROR:
.SECONDARY:
.PHONY: all core test check golden-update tables layers docs lint asan tsan cover fuzz mutate bench bench-place \
        bench-referee bench-resize install uninstall clean help FORCE

all: $(B)/strandwise ## build build/strandwise (the default)

core: $(B)/libstrandwise-core.a ## the library alone: no files, no environment; GSL, iniparser's dictionary, libm

$(B)/strandwise: $(MAIN) $(B)/libstrandwise.a
	$(call Q,LINK)$(CC) $(ALL_CFLAGS) $(LDFLAGS) $(LINKHARD) -o $@ $(MAIN) $(B)/libstrandwise.a $(LIBS)

$(B)/libstrandwise.a: $(OBJECTS) $(B)/gen/objects
	$(call Q,AR  )rm -f $@ && $(AR) qcs $@ $(OBJECTS)

$(B)/libstrandwise-core.a: $(CORE) $(B)/gen/objects
	$(call Q,AR  )rm -f $@ && $(AR) qcs $@ $(CORE)

$(B)/src/%.o: src/%.c
	@mkdir -p $(@D)
	$(call Q,CC  )$(CC) $(ALL_CPPFLAGS) $(ALL_CFLAGS) -MMD -MP -c -o $@ $<

$(B)/embed: src/base/embed.c
	@mkdir -p $(@D)
	$(call Q,CC  )$(CC) $(STD) $(DEFS) $(WARN) -O1 -o $@ $<

$(B)/gen/tables_text.c: $(B)/embed $(TABLES)
	@mkdir -p $(@D)
	$(call Q,GEN )$(B)/embed $(TABLES) > $@

$(B)/gen/tables_text.o: $(B)/gen/tables_text.c
	$(call Q,CC  )$(CC) $(ALL_CPPFLAGS) $(ALL_CFLAGS) -c -o $@ $<

# Lists are compared each time and written where they differ, so that a file taken away is noticed as one put there.
write_list = @mkdir -p $(@D) && printf '%s\n' $(1) > $@.now && if cmp -s $@.now $@; then rm $@.now; else mv $@.now $@; fi

$(B)/gen/objects: FORCE
	$(call write_list,$(OBJECTS))

# One suite a file: tests/unit/ROOM/test_NAME.c defines `CU_TestInfo tests_NAME[]`.
SUITES := $(sort $(patsubst test_%.c,%,$(filter test_%.c,$(notdir $(TEST_SOURCES)))))
$(B)/gen/suites.h: FORCE
	$(call write_list,$(patsubst %,'SUITE(%)',$(SUITES)))

FORCE:

$(B)/tests/%.o: tests/unit/%.c $(B)/gen/suites.h
	@mkdir -p $(@D)
	$(call Q,CC  )$(CC) $(ALL_CPPFLAGS) -Itests/unit $(ALL_CFLAGS) -MMD -MP -c -o $@ $<

$(B)/unit: $(TEST_OBJECTS) $(B)/libstrandwise.a
	$(call Q,LINK)$(CC) $(ALL_CFLAGS) $(LDFLAGS) $(LINKHARD) -pthread -o $@ $(TEST_OBJECTS) $(B)/libstrandwise.a -lcunit $(LIBS)

# Prints docs/plan.schema.json and docs/redraw.schema.json from the tables that write the JSON.
$(B)/schema: tests/schema_print.c $(B)/libstrandwise.a
	$(call Q,LINK)$(CC) $(ALL_CPPFLAGS) $(ALL_CFLAGS) $(LDFLAGS) $(LINKHARD) -o $@ $< $(B)/libstrandwise.a $(LIBS)

test: $(B)/unit ## the unit tests and published values alone
	$(B)/unit

# --- every habit a target ---------------------------------------------------------------

check: all core $(B)/unit $(B)/schema ## every test, about two minutes; CUnit's summary comes last
	@B='$(B)' CC='$(CC)' MAKE='$(MAKE)' sh tests/check.sh

golden-update: all $(B)/schema ## store what comes out now; look at the difference before committing
	@B='$(B)' sh tests/golden.sh --update
	$(B)/schema plan > docs/plan.schema.json
	$(B)/schema redraw > docs/redraw.schema.json

tables: all ## look through the tables: units, ranges, keys, sources, no row unread
	@B='$(B)' sh tests/tables.sh

layers: all ## nothing reaches up the pipeline, judged from the object files
	@CC='$(CC)' sh tests/layers.sh '$(B)'

docs: all $(B)/schema ## documents and program say the same
	@B='$(B)' CC='$(CC)' sh tests/docs.sh

lint: ## both compilers without a warning, shell scripts too
	$(MAKE) B=$(B)/gcc CC=gcc CFLAGS='-O2 -Werror' all $(B)/gcc/unit
	$(MAKE) B=$(B)/clang CC=clang CFLAGS='-O2 -Werror' all $(B)/clang/unit
	shellcheck -x tests/*.sh tests/*/*.sh .ci/run

# A sanitizer that reports must end the run, or a test would pass over it.
SANITIZE := -fsanitize=address,undefined -fno-sanitize-recover=all -fno-omit-frame-pointer

asan: ## everything again under the address and undefined-behaviour sanitizers
	LSAN_OPTIONS="suppressions='$(CURDIR)/tests/leaks.supp':print_suppressions=0" \
	    $(MAKE) B=$(B)/asan CFLAGS='-O1 -g $(SANITIZE)' HARDEN= check

tsan: ## two plans in two threads at once under the thread sanitizer
	$(MAKE) B=$(B)/tsan CFLAGS='-O1 -g -fsanitize=thread' HARDEN= \
	    TEST_SOURCES='tests/unit/main.c tests/unit/app/test_library.c' $(B)/tsan/unit
	TSAN_OPTIONS=halt_on_error=1 $(B)/tsan/unit library

# Floors, in per cent: raise them when the figures rise.
COVER_LINES    ?= 94
COVER_BRANCHES ?= 83

cover: ## lines and branches the tests reach, with floors
	rm -rf $(B)/cover
	$(MAKE) B=$(B)/cover CFLAGS='-O0 -g --coverage' HARDEN= check
	gcovr --root . --filter src/ --exclude-throw-branches --print-summary --sort-percentage \
	    --fail-under-line $(COVER_LINES) --fail-under-branch $(COVER_BRANCHES) $(B)/cover

FUZZERS := $(filter-out fuzz,$(patsubst tests/fuzz/%.c,%,$(wildcard tests/fuzz/*.c)))

fuzz: ## every reader and the whole run under libFuzzer, FUZZ_SECONDS each (30)
	$(MAKE) B=$(B)/fuzzing CC=clang HARDEN= LINKHARD= \
	    CFLAGS='-O1 -g -fsanitize=fuzzer-no-link $(SANITIZE)' fuzzers
	@sh tests/fuzz/run.sh $(B)/fuzzing

.PHONY: fuzzers
fuzzers: $(FUZZERS:%=$(B)/fuzz/%)

$(B)/fuzz/%: tests/fuzz/%.c tests/fuzz/fuzz.c $(B)/libstrandwise.a
	@mkdir -p $(@D)
	$(CC) $(ALL_CPPFLAGS) -Itests/fuzz $(ALL_CFLAGS) -fsanitize=fuzzer -o $@ $< tests/fuzz/fuzz.c \
	    $(B)/libstrandwise.a $(LIBS)

mutate: ## single-token changes drawn by SEED (1): which of N (25) does no test notice? about a minute each
	@$(or $(PYTHON),python3) -B tests/mutate.py --number $(or $(N),25) --seed $(or $(SEED),1) --jobs $(or $(JOBS),1)

bench: all $(B)/bench/make_chart $(B)/bench/run ## time and memory a stitch, and how they grow
	@B='$(B)' sh tests/bench/bench.sh $(BENCH_SIDE)

bench-place: $(B)/bench/place ## the best placement of catches against row by row, some minutes
	@$(B)/bench/place $(SEEDS)

bench-resize: $(B)/bench/resize ## charts redrawn for other gauges against the least there can be, some minutes
	@B='$(B)' sh tests/bench/resize.sh

$(B)/bench/place $(B)/bench/resize: $(B)/bench/%: tests/bench/%.c $(B)/libstrandwise.a
	@mkdir -p $(@D)
	$(CC) $(ALL_CPPFLAGS) $(ALL_CFLAGS) -o $@ $< $(B)/libstrandwise.a $(LIBS)

bench-referee: all ## the best placement against glpsol and cbc, about ten minutes
	@$(or $(PYTHON),/usr/bin/python3) -B tests/referee.py --bench $(B)/strandwise $(REFEREE)

$(B)/bench/%: tests/bench/%.c
	@mkdir -p $(@D)
	$(CC) $(STD) $(DEFS) $(WARN) -O2 -o $@ $<

# --- installing ----------------------------------------------------------------------------

install: all ## into PREFIX (/usr/local); DESTDIR for packaging
	$(INSTALL) -d '$(DESTDIR)$(bindir)' '$(DESTDIR)$(mandir)/man1' \
	    '$(DESTDIR)$(datadir)/strandwise/tables' '$(DESTDIR)$(docdir)/examples'
	$(INSTALL) -m 755 $(B)/strandwise '$(DESTDIR)$(bindir)/strandwise'
	$(INSTALL) -m 644 docs/strandwise.1 '$(DESTDIR)$(mandir)/man1/strandwise.1'
	$(INSTALL) -m 644 $(TABLES) '$(DESTDIR)$(datadir)/strandwise/tables'
	$(INSTALL) -m 644 README.md LICENSE docs/*.md docs/plan.schema.json docs/redraw.schema.json '$(DESTDIR)$(docdir)'
	for folder in examples/*/; do \
	    $(INSTALL) -d "$(DESTDIR)$(docdir)/$$folder" && \
	    $(INSTALL) -m 644 "$$folder"* "$(DESTDIR)$(docdir)/$$folder" || exit 1; \
	done

uninstall: ## take all of it away again
	rm -f '$(DESTDIR)$(bindir)/strandwise' '$(DESTDIR)$(mandir)/man1/strandwise.1'
	rm -rf '$(DESTDIR)$(datadir)/strandwise' '$(DESTDIR)$(docdir)'

clean: ## remove build/
	rm -rf $(B)

help: ## this list
	@grep -hE '^[a-z-]+:.*##' $(MAKEFILE_LIST) | sort | sed -E 's/^([a-z-]+):.*## */  make \1\t/' | expand -t 24

-include $(OBJECTS:.o=.d) $(MAIN:.o=.d) $(TEST_OBJECTS:.o=.d)
