# toothrack. SPDX-License-Identifier: GPL-3.0-or-later
#
#   make             build build/toothrack
#   make demo        install what is missing, build, show it at work
#   make check       install what is missing, build twice, test, look over the code; ends with the sums
#   make check-long  the same with long searches: the oracle's shops, the analyzer and the fuzzers
#   make fuzz        every parser's fuzzer for FUZZ_SECONDS each
#   make bench       the measurements of tests/bench
#   make format      lay the code out
#   make install     copy the program, its manual page and bash's completion under DESTDIR and PREFIX (/usr/local)
#   make uninstall   remove those three
#   make clean       remove build/
#
# Compilers are named without their options; make --trace shows the whole command.
#
# Under build/: the program and obj/ (gcc), asan/ (clang with nearly every warning, and with the address and undefined
# behaviour sanitizers), fuzz/ (clang's fuzzer), tidy/ and junit/ (what was found).

VERSION := 0.1.0

# What a part does not say fails plainly rather than by default.
.SUFFIXES:
MAKEFLAGS += --no-builtin-rules
SHELL := /bin/sh

CC := gcc
CLANG := clang
AR := ar
PYTHON := /usr/bin/python3
FUZZ_SECONDS := 20
PREFIX := /usr/local
DESTDIR :=
ORACLE_SHOPS_LONG := 5000
TOGETHER_SHOPS_LONG := 4000
# How many states of a function clang's analyzer looks into; its own default takes many times as long.
TIDY_STATES := 2500
TIDY_STATES_LONG := 225000
JOBS := 3
# Some tests wait more than they work.
TEST_JOBS := 4

# ---------------------------------------------------------------- what there is

# The rooms, from the top floor down. A program is linked in this order, and a test with its own room and those
# that it may call, so that a call upward does not link.
ROOMS := console room plan care print store trade tag quantity base
BELOW_base :=
BELOW_quantity := base
BELOW_tag := base
BELOW_trade := tag quantity base
BELOW_store := trade tag quantity base
BELOW_print := tag quantity base
BELOW_room := store trade tag quantity base
BELOW_plan := store trade tag quantity base
BELOW_care := store trade tag quantity base
BELOW_console := room plan care print store trade tag quantity base

SOURCES := $(wildcard src/*/*.c src/console/commands/*.c)
HEADERS := $(wildcard include/toothrack/*.h src/*/*.h src/*/*/*.h)
TEST_SOURCES := $(wildcard $(foreach room,$(ROOMS),tests/$(room)/test_*.c))
FUZZ_SOURCES := $(wildcard tests/fuzz/fuzz_*.c)
SUITES := $(sort $(wildcard tests/*/test_*.py))
# Those that run the program often and briefly go over the sanitized one too; the shops only in make check-long.
ASAN_FOLDERS := dialogues
# What of them is left to make check-long: what says most with the least code of its own behind it.
CHOSEN_asan := -k 'ahead or book or due or finish or gauge or reading or regrind or run_told or wear or shops'
# Each unit runs once: sanitized, or as it is shipped where it takes long sanitized. In make check-long all run both ways.
UNITS := $(TEST_SOURCES:tests/%.c=%)
ASAN_LEFT := print/test_readback print/test_board print/test_plot print/test_passport quantity/test_calendar \
	console/test_spooler console/test_answer_stream tag/test_scan_layout
UNITS_gcc := $(ASAN_LEFT)
UNITS_asan = $(filter-out $(ASAN_LEFT),$(UNITS))
CHOSEN_gcc :=
ASAN_SUITES := $(filter $(ASAN_FOLDERS:%=tests/%/%),$(SUITES))
ALL_C := $(wildcard src/*.c) $(SOURCES) $(HEADERS) \
	$(wildcard tests/*/*.c tests/*/*.h)

# Which room a source belongs to: src/console/commands/show.c to console.
room_sources = $(filter src/$(1)/%,$(SOURCES))

# ---------------------------------------------------------------- how it is built

# Asked once, when first needed; where pkg-config is not there yet the plain names do.
package = $(shell pkg-config $(1) $(2) 2>/dev/null || echo $(3))
LIBRARIES = $(eval LIBRARIES := $(call package,--libs,sqlite3,-lsqlite3) \
	$(call package,--libs,jansson,-ljansson) $(call package,--libs,libsodium,-lsodium) \
	$(call package,--libs,readline,-lreadline) -lcsv -lzint -lm)$(LIBRARIES)
LIBRARY_INCLUDES = $(eval LIBRARY_INCLUDES := \
	$(patsubst -I%,-isystem %,$(call package,--cflags-only-I,sqlite3 jansson libsodium readline pangocairo,)))$(LIBRARY_INCLUDES)

WARNINGS := -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wvla -Wmissing-prototypes -Wstrict-prototypes \
	-Werror
BASICS = -std=c11 -D_GNU_SOURCE -Iinclude $(LIBRARY_INCLUDES) -g -MMD -MP

# Everything clang can say but what is no fault here: padding, C90 and C++ habits, comparing doubles with what was
# stored, an assert's text taken as true, the result of round() cast.
CLANG_WARNINGS := -Weverything -Wno-unknown-warning-option -Wno-padded -Wno-declaration-after-statement \
	-Wno-c++98-compat -Wno-float-equal -Wno-string-conversion -Wno-bad-function-cast \
	-Wno-conditional-uninitialized -Wno-disabled-macro-expansion -Wno-reserved-macro-identifier \
	-Wno-unsafe-buffer-usage -Wno-switch-default -Wno-pre-c11-compat -Werror
SANITIZERS := -fsanitize=address,undefined -fno-sanitize-recover=all -fno-omit-frame-pointer

# Of each flavour: its folder, compiler, options, warnings. That it is sanitized is told as gcc tells it.
DIR_gcc := build
CC_gcc = $(CC)
OPTIONS_gcc := -O2
WARNINGS_gcc := $(WARNINGS)

DIR_asan := build/asan
CC_asan = $(CLANG)
OPTIONS_asan := -O1 -gline-tables-only $(SANITIZERS) -D__SANITIZE_ADDRESS__
WARNINGS_asan := $(CLANG_WARNINGS)

DIR_fuzz := build/fuzz
CC_fuzz = $(CLANG)
OPTIONS_fuzz := -O1 -fsanitize=fuzzer-no-link $(SANITIZERS)
WARNINGS_fuzz := $(WARNINGS) -Wno-string-conversion

FLAVOURS := gcc asan

# What a user finds beside the program, made from its tables.
MADE_FROM_TABLES := build/toothrack.1 build/toothrack.bash

.PHONY: all
all: build/needs.stamp
	@$(MAKE) --no-print-directory build/toothrack $(MADE_FROM_TABLES)

# Says what is missing before a compiler does; `make demo` and `make check` install it.
build/needs.stamp: .ci/needs
	@mkdir -p build
	@.ci/needs --look build || { echo "make demo and make check install what is missing"; exit 2; }
	@touch $@

# ---- made while building

build/made/migrations.c: migrations $(wildcard migrations/*.sql) src/embed.sh
	@mkdir -p $(@D)
	src/embed.sh migrations $(sort $(wildcard migrations/*.sql)) >$@.part
	@mv $@.part $@

build/made/demo_files.c: $(wildcard src/demo src/demo/*.csv) src/embed.sh
	@mkdir -p $(@D)
	src/embed.sh demo $(sort $(wildcard src/demo/*.csv)) >$@.part
	@mv $@.part $@

build/made/stock_files.c: $(wildcard labels labels/*.stock) src/embed.sh
	@mkdir -p $(@D)
	src/embed.sh stocks $(sort $(wildcard labels/*.stock)) >$@.part
	@mv $@.part $@

build/made/version.c: Makefile
	@mkdir -p $(@D)
	@printf '#include "toothrack/version.h"\n\nconst char toothrack_version[] = "$(VERSION)";\n' >$@

# Which room carries what is made.
MADE_store := migrations
MADE_room := demo_files
MADE_print := stock_files
MADE_base := version

# ---- a flavour's objects, one archive a room, the program, the test programs

define flavour_rules
$$(DIR_$(1))/obj/made/%.o: build/made/%.c Makefile
	@mkdir -p $$(@D)
	@$$(info $$(CC_$(1)) $$@) $$(CC_$(1)) $$(BASICS) -Isrc $$(OPTIONS_$(1)) $$(WARNINGS) -Wno-overlength-strings -c -o $$@ $$<

$$(DIR_$(1))/obj/src/%.o: src/%.c Makefile
	@mkdir -p $$(@D)
	@$$(info $$(CC_$(1)) $$@) $$(CC_$(1)) $$(BASICS) $$(OPTIONS_$(1)) $$(WARNINGS_$(1)) -c -o $$@ $$<

# The tests themselves need not be fast, but be built three times within minutes.
$$(DIR_$(1))/obj/tests/%.o: tests/%.c Makefile
	@mkdir -p $$(@D)
	@$$(info $$(CC_$(1)) $$@) $$(CC_$(1)) $$(BASICS) -Isrc $$(OPTIONS_$(1)) -O0 $$(WARNINGS) -Wno-missing-prototypes -c -o $$@ $$<

$$(DIR_$(1))/toothrack: $$(DIR_$(1))/obj/src/main.o $$(ROOMS:%=$$(DIR_$(1))/%.a)
	@$$(info $$(CC_$(1)) $$@) $$(CC_$(1)) $$(OPTIONS_$(1)) -o $$@ $$^ $$(LIBRARIES)

-include $$(wildcard $$(DIR_$(1))/obj/src/*.d $$(DIR_$(1))/obj/src/*/*.d $$(DIR_$(1))/obj/src/*/*/*.d \
	$$(DIR_$(1))/obj/made/*.d $$(DIR_$(1))/obj/tests/*/*.d)
endef
$(foreach flavour,$(FLAVOURS) fuzz,$(eval $(call flavour_rules,$(flavour))))

build/generate: build/obj/src/generate.o $(ROOMS:%=build/%.a)
	@$(info $(CC) $@) $(CC) $(OPTIONS_gcc) -o $@ $^ $(LIBRARIES)

build/toothrack.1: build/generate
	@build/generate manual >$@.part
	@mv $@.part $@

build/toothrack.bash: build/generate src/completion.bash
	@{ build/generate bash && cat src/completion.bash; } >$@.part
	@mv $@.part $@

# Made anew each time, so that a removed source leaves nothing behind. The room's folder is a prerequisite for that.
define room_rules
$$(DIR_$(1))/$(2).a: $$(patsubst src/%.c,$$(DIR_$(1))/obj/src/%.o,$$(call room_sources,$(2))) \
		$$(MADE_$(2):%=$$(DIR_$(1))/obj/made/%.o) $$(wildcard src/$(2) src/$(2)/commands)
	@mkdir -p $$(@D)
	@rm -f $$@
	@$$(AR) rcs $$@ $$(filter %.o,$$^)

# The room itself whole: its table of statements holds those that no test calls too.
$$(DIR_$(1))/tests/$(2)/%: $$(DIR_$(1))/obj/tests/$(2)/%.o $$(patsubst %,$$(DIR_$(1))/%.a,$(2) $$(BELOW_$(2)))
	@mkdir -p $$(@D)
	@$$(info $$(CC_$(1)) $$@) $$(CC_$(1)) $$(OPTIONS_$(1)) -o $$@ $$< \
		-Wl,--whole-archive $$(DIR_$(1))/$(2).a -Wl,--no-whole-archive \
		$$(filter-out $$< $$(DIR_$(1))/$(2).a,$$^) $$(LIBRARIES) -lcmocka
endef
$(foreach flavour,$(FLAVOURS) fuzz,$(foreach room,$(ROOMS),$(eval $(call room_rules,$(flavour),$(room)))))

build/fuzz/fuzz_%: build/fuzz/obj/tests/fuzz/fuzz_%.o $(ROOMS:%=build/fuzz/%.a)
	@$(info $(CC_fuzz) $@) $(CC_fuzz) $(OPTIONS_fuzz) -fsanitize=fuzzer -o $@ $^ $(LIBRARIES)

.SECONDARY:

# ---------------------------------------------------------------- checking

# Every part of the check leaves a JUnit file; these are all that must be there at the end.
JUNIT_UNITS := $(foreach flavour,$(FLAVOURS),$(UNITS_$(flavour):%=build/junit/$(flavour)/%.xml))
# The longest first.
JUNIT_SUITES := $(ASAN_SUITES:tests/%.py=build/junit/asan/%.xml) $(SUITES:tests/%.py=build/junit/gcc/%.xml)
JUNIT_TIDY := $(patsubst %.c,build/tidy/%.xml,$(wildcard src/*.c) $(SOURCES))
JUNIT_LOOK := build/junit/format.xml build/junit/layers.xml
JUNIT := $(JUNIT_UNITS) $(JUNIT_SUITES) $(JUNIT_LOOK) $(JUNIT_TIDY)

# Leaks are looked for in the tests of each room: a look doubles what a short process of the suites costs.
SANITIZER_ENVIRONMENT := ASAN_OPTIONS=detect_leaks=1:strict_string_checks=1 UBSAN_OPTIONS=print_stacktrace=1
SANITIZER_SUITES := ASAN_OPTIONS=detect_leaks=0:strict_string_checks=1 UBSAN_OPTIONS=print_stacktrace=1

define check_rules
build/junit/$(1)/%.xml: $$(DIR_$(1))/tests/%
	@mkdir -p $$(@D)
	@$(SANITIZER_ENVIRONMENT) tests/run_unit.sh $$@ $$<

build/junit/$(1)/%.xml: tests/%.py $$(DIR_$(1))/toothrack
	@mkdir -p $$(@D)
	@echo "$(1): $$<"
	@TOOTHRACK=$$(CURDIR)/$$(DIR_$(1))/toothrack PYTHONDONTWRITEBYTECODE=1 $(SANITIZER_SUITES) \
		$$(PYTHON) -m pytest -q -p no:cacheprovider --tb=short -o junit_family=xunit2 \
		$$(CHOSEN_$(1)) --junitxml=$$@ $$<
endef
$(foreach flavour,$(FLAVOURS),$(eval $(call check_rules,$(flavour))))

# The trend against scipy asks a program of its own beside the console.
$(foreach flavour,$(FLAVOURS),$(eval build/junit/$(flavour)/trade/test_trend_scipy.xml: $(DIR_$(flavour))/tests/trade/answer_series))

# The self-test of the layer check needs no program.
build/junit/gcc/layers/%.xml: tests/layers/%.py
	@mkdir -p $(@D)
	@echo "layers: $<"
	@PYTHONDONTWRITEBYTECODE=1 $(PYTHON) -m pytest -q -p no:cacheprovider --tb=short -o junit_family=xunit2 \
		--junitxml=$@ $<

build/junit/format.xml: $(ALL_C) .clang-format
	@mkdir -p $(@D)
	@tests/check_format.sh $@ $(ALL_C)

build/junit/layers.xml: tests/check_layers.sh $(ROOMS:%=build/%.a)
	@mkdir -p $(@D)
	@tests/check_layers.sh $@

# clang's object stands for all the headers a source reads: what was found is kept until one of them changes.
build/tidy/%.xml: build/asan/obj/%.o .clang-tidy tests/junit.sh
	@mkdir -p $(@D)
	@tests/check_tidy.sh $@ $*.c $(BASICS) -Xclang -analyzer-config -Xclang max-nodes=$(TIDY_STATES)

.PHONY: check check-parts check-build check-long
check:
	@.ci/needs check
	@$(MAKE) --no-print-directory check-parts

# Goes on through all parts; the sums decide. Failures of an earlier run are looked at anew.
check-parts:
	@rm -rf build/junit
	@grep -rl -e '<failure' -e '<error' build/tidy 2>/dev/null | xargs -r rm -f
	@status=0; \
	$(MAKE) -k -j$(JOBS) --no-print-directory -Otarget check-build || status=1; \
	$(MAKE) -k -j$(TEST_JOBS) --no-print-directory -Otarget $(JUNIT_SUITES) $(JUNIT_LOOK) $(JUNIT_UNITS) $(JUNIT_TIDY) \
		|| status=1; \
	$(PYTHON) tests/sum_junit.py $(JUNIT) || status=1; \
	exit $$status

check-build: $(FLAVOURS:%=check-build-%)
define check_build_rule
.PHONY: check-build-$(1)
check-build-$(1): $$(DIR_$(1))/toothrack $$(UNITS_$(1):%=$$(DIR_$(1))/tests/%)
endef
$(foreach flavour,$(FLAVOURS),$(eval $(call check_build_rule,$(flavour))))
check-build-gcc: $(MADE_FROM_TABLES)

check-long:
	@.ci/needs check
	@status=0; \
	$(MAKE) --no-print-directory fuzz-all FUZZ_SECONDS=$$((15 * $(FUZZ_SECONDS))) || status=1; \
	rm -rf build/tidy; \
	TOOTHRACK_ORACLE_SHOPS=$(ORACLE_SHOPS_LONG) TOOTHRACK_TOGETHER_SHOPS=$(TOGETHER_SHOPS_LONG) TOOTHRACK_LP_SHOPS=60 TOOTHRACK_EXPORT_SHOPS=40 TOOTHRACK_KILLS=200 \
		TOOTHRACK_SHIFT_PACE=100 TOOTHRACK_BENCH_KILLS=500 \
		TOOTHRACK_READBACK_TAGS=1000 TOOTHRACK_JOINT_MODELS=20000 TOOTHRACK_EARLIEST_SHOPS=200 TOOTHRACK_TREND_SERIES=10000 TOOTHRACK_ROLLS=10000 TOOTHRACK_UNIT_SECONDS=1200 \
		$(MAKE) --no-print-directory check-parts \
		TIDY_STATES=$(TIDY_STATES_LONG) ASAN_FOLDERS='dialogues shops' CHOSEN_asan= ASAN_LEFT= UNITS_gcc='$(UNITS)' || status=1; \
	exit $$status

.PHONY: fuzz fuzz-all
fuzz:
	@.ci/needs check
	@$(MAKE) --no-print-directory fuzz-all

# What a fuzzer learned stays in build/fuzz/corpus; what broke it goes to build/fuzz/found. Inputs worth keeping lie in
# tests/fuzz/corpus/NAME.
fuzz-all: $(FUZZ_SOURCES:tests/fuzz/%.c=build/fuzz/%)
	@status=0; mkdir -p build/fuzz/found; \
	for fuzzer in $^; do \
		name=$${fuzzer##*/}; name=$${name#fuzz_}; \
		mkdir -p build/fuzz/corpus/$$name; \
		kept=; [ ! -d tests/fuzz/corpus/$$name ] || kept=tests/fuzz/corpus/$$name; \
		echo "fuzz: $$name, $(FUZZ_SECONDS) s"; \
		$(SANITIZER_ENVIRONMENT) $$fuzzer -max_total_time=$(FUZZ_SECONDS) -timeout=10 -rss_limit_mb=2048 -verbosity=0 \
			-print_final_stats=0 -artifact_prefix=build/fuzz/found/$$name- \
			build/fuzz/corpus/$$name $$kept || status=1; \
	done; \
	[ $$status -eq 0 ] && echo "fuzz: nothing found" || echo "fuzz: see build/fuzz/found"; \
	exit $$status

# ---------------------------------------------------------------- and the rest

.PHONY: bench demo format clean
bench: all
	@set -e; for script in $(sort $(wildcard tests/bench/*.py)); do \
		echo "bench: $$script"; TOOTHRACK=$(CURDIR)/build/toothrack $(PYTHON) $$script; \
	done
	@[ -n "$(wildcard tests/bench/*.py)" ] || echo "bench: tests/bench holds no measurement yet"

demo:
	@.ci/needs build
	@$(MAKE) --no-print-directory all
	@src/demo/show.sh

# Where each goes; uninstall removes these and no more.
INSTALLED := bin/toothrack share/man/man1/toothrack.1 share/bash-completion/completions/toothrack

.PHONY: install uninstall
install: all
	@install -D -m 755 build/toothrack "$(DESTDIR)$(PREFIX)/bin/toothrack"
	@install -D -m 644 build/toothrack.1 "$(DESTDIR)$(PREFIX)/share/man/man1/toothrack.1"
	@install -D -m 644 build/toothrack.bash "$(DESTDIR)$(PREFIX)/share/bash-completion/completions/toothrack"
	@for file in $(INSTALLED); do echo "installed: $(DESTDIR)$(PREFIX)/$$file"; done

uninstall:
	@for file in $(INSTALLED); do rm -f "$(DESTDIR)$(PREFIX)/$$file"; done

format:
	clang-format -i $(ALL_C)

clean:
	rm -rf build
