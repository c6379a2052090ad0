#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The library behind src/strandwise.h asks nothing of the machine but memory: its objects call no function of
# the C library that is not listed here (none of files, environment, terminal or time), and of other libraries
# only GSL and iniparser's dictionary. A program of its own links with those alone, and plans.
#
#   tests/core.sh [BUILD-FOLDER]
cd "$(dirname "$0")/.." || exit 1
[ $# -eq 0 ] || B=$1
# shellcheck source=tests/tally.sh
. tests/tally.sh

# The end where a promise of ours is broken (abort, assert). Memory, bytes and strings, numbers into text and back (in the
# one locale "C", whatever the caller's is), sorting, arithmetic. What the compiler puts in by itself begins with two
# underlines: checked variants, wide division, the stack's guard.
allowed='abort __assert_fail calloc free malloc realloc _setjmp longjmp __longjmp_chk
memchr memcmp memcpy memmove memset __memcpy_chk __memmove_chk __memset_chk
strcasecmp strchr strcmp strcspn strlen strncasecmp strncmp strnlen strrchr strspn strstr strpbrk
newlocale uselocale freelocale snprintf vsnprintf __snprintf_chk __vsnprintf_chk strtod strtol strtoll strtoul qsort
atan2 cbrt ceil cos exp fabs floor fmax fmin fmod hypot llround log log1p lround pow rint round sin sincos sqrt
__divmodti4 __divti3 __modti3 __udivti3 __umodti3 __stack_chk_fail _GLOBAL_OFFSET_TABLE_
iniparser_getstring dictionary_new dictionary_set dictionary_del'

# foreign OBJECT...: what they call that none of them has and the list does not allow; sanitizers' calls apart.
foreign() {
    nm -P "$@" | awk -v allowed="$allowed" '
        BEGIN { n = split(allowed, word, /[ \n]+/); for (i = 1; i <= n; i++) may[word[i]] = 1 }
        $2 ~ /^[TDBRVWCG]$/ { own[$1] = 1 }
        $2 == "U" { use[$1] = 1 }
        END {
            for (name in use)
                if (!(name in own) && !(name in may) && name !~ /^gsl_/ && name !~ /^__(asan|ubsan|tsan|gcov|sanitizer)_/)
                    print name
        }' | sort
}

# The check must be able to say no.
self_test() {
    printf '%s\n' 'char *getenv(const char *); long time(long *); unsigned long strlen(const char *);' \
        'unsigned long bad(void); unsigned long bad(void) { return strlen(getenv("A")) + (unsigned long)time(0); }' |
        "${CC:-cc}" -x c -c -fno-builtin -o "$scratch/bad.o" - || return 1
    [ "$(foreign "$scratch/bad.o" | tr '\n' ' ')" = "getenv time " ]
}

verdict "the check does not find what was put there to be found" self_test

archive=$B/libstrandwise-core.a
verdict "$archive is not there: run make core" [ -f "$archive" ]
foreign "$archive" >"$scratch/foreign"
while read -r name; do
    fail "the library calls $name"
done <"$scratch/foreign"
verdict "$archive holds the command line" [ "$(nm "$archive" | grep -c ' T command_')" -eq 0 ]

# A program that has nothing but the library: the starter's own chart, in memory.
cat >"$scratch/small.c" <<'END'
#include <stdio.h>
#include <string.h>
#include "strandwise.h"
static char project[] = "[project]\nworked = round\n[swatch]\nworked = round\nover = 4 in\nstitches = 28\nrows = 31\n"
    "[measure]\naround = 8 in\n[cast-on]\nyarn = oat\n[band leaf]\nchart = leaf\n[yarn oat]\nmark = .\n[yarn fern]\nmark = x\n";
static char chart[] = "..xx\n.x.x\nx..x\n";
int main(void)
{
    struct strandwise_file files[] = {{"a/p.ini", project, sizeof project - 1, 0, 0}, {"a/leaf.chart", chart, sizeof chart - 1, 0, 0}};
    struct strandwise *core;
    struct strandwise_wish wish = {.output = OUTPUT_PLAN};
    struct strandwise_bytes made = {"", 0};
    strandwise_start();
    core = strandwise_begin(files, 2, (size_t)256 << 20);
    if (!core || strandwise_plan(core, "a/p.ini") != RUN_DONE || strandwise_make(core, &wish, &made) != RUN_DONE)
        return 1;
    fwrite(made.bytes, 1, made.nbytes, stdout);
    strandwise_end(core);
    return 0;
}
END
# With the flags of a sanitized or counted build the small program would need its libraries too.
if nm "$archive" 2>/dev/null | grep -qE '__(asan|tsan|gcov)_'; then
    echo "# built for another test: not linked alone"
else
    verdict "a program of the library alone does not link" "${CC:-cc}" -Isrc -o "$scratch/small" "$scratch/small.c" \
        "$archive" -liniparser -lgsl -lgslcblas -lm
    verdict "a program of the library alone does not plan" sh -c "'$scratch/small' | grep -q leaf"
fi
finish core
