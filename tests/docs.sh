#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The documents and the program say the same: keys, diagnostics, commands, options, targets, names.
#
#   tests/docs.sh          check
#   tests/docs.sh --keys   print the tables of docs/project-file.md as src/read/project/keys.h has them
#
# docs/project-file.md: a heading `## [section]` or `## [section NAME]` for each section, and in it
#   a table row `| key | what to write | range | default | example |` for each key.
# docs/diagnostics.md: a heading `### [code] The words of src/base/diag_codes.h` for each code.
cd "$(dirname "$0")/.." || exit 1
# shellcheck source=tests/tally.sh
. tests/tally.sh

# same WHAT LEFT LEFT-FILE RIGHT RIGHT-FILE: two sorted lists hold the same lines.
same() {
    sort -u "$3" >"$scratch/left"
    sort -u "$5" >"$scratch/right"
    verdict "$1: nothing found in $2" [ -s "$scratch/left" ]
    comm -23 "$scratch/left" "$scratch/right" >"$scratch/only"
    while read -r line; do fail "$1 in $2, not in $4: $line"; done <"$scratch/only"
    comm -13 "$scratch/left" "$scratch/right" >"$scratch/only"
    while read -r line; do fail "$1 in $4, not in $2: $line"; done <"$scratch/only"
    comm -12 "$scratch/left" "$scratch/right" >"$scratch/both"
    passed=$((passed + $(wc -l <"$scratch/both")))
}

# within WHAT LEFT LEFT-FILE RIGHT RIGHT-FILE: every line of the left list is in the right one.
within() {
    sort -u "$3" >"$scratch/left"
    sort -u "$5" >"$scratch/right"
    comm -23 "$scratch/left" "$scratch/right" >"$scratch/only"
    while read -r line; do fail "$1 in $2, not in $4: $line"; done <"$scratch/only"
    comm -12 "$scratch/left" "$scratch/right" >"$scratch/both"
    passed=$((passed + $(wc -l <"$scratch/both")))
}

# The lists of the program are X-macros: the preprocessor reads them as the compiler does.
list_macro() {
    "${CC:-cc}" -E -P "$@" | grep '^@'
}

# {row} of tables/allowances.csv as a document writes it: 6, 3/4, or of a ratio 10 %; {row - 1}: one less.
allowed() {
    awk '
        function shown(value, unit) {
            if (unit == "ratio") return sprintf("%g %%", 100 * value)
            if (value == 0.75) return "3/4"
            if (value == 0.5) return "1/2"
            return value + 0 ""
        }
        FNR == NR { if (split($0, cell, ",") > 4) { value[cell[1]] = cell[2]; unit[cell[1]] = cell[5] } next }
        {
            while (match($0, /\{[a-z_]+( - 1)?\}/)) {
                row = substr($0, RSTART + 1, RLENGTH - 2)
                less = sub(/ - 1$/, "", row)
                said = row in value ? shown(value[row] - less, unit[row]) : "no row " row
                $0 = substr($0, 1, RSTART - 1) said substr($0, RSTART + RLENGTH)
            }
            print
        }' tables/allowances.csv -
}

# @S@ID@head@naming@what and @K@ID@key@form@range@default@example, a line each; choices with "or".
project_keys() {
    list_macro '-DSECTION(id,head,naming,what)=@S@id@head@naming@what' \
        '-DKEY(section,key,form,words,range,fallback,example,into,field)=@K@section@key@words@range@fallback@example' \
        -x c src/read/project/keys.h |
        sed 's/" "//g; s/@ */@/g; s/ *@/@/g; s/@"/@/g; s/"@/@/g; s/"$//; s/ | / or /g' |
        allowed
}

# @NAME@code@severity@heading, a line each.
diagnostic_codes() {
    list_macro '-DDIAG(name,text,severity,heading)=@name@text@severity@heading' \
        -x c src/base/diag_codes.h |
        sed 's/" "//g; s/@ */@/g; s/ *@/@/g; s/@"/@/g; s/"@/@/g; s/"$//'
}

if [ "${1-}" = --keys ]; then
    project_keys | awk -F@ '
        $2 == "S" { id[$3] = ++n; head[n] = $4; naming[n] = $5; what[n] = $6 }
        $2 == "K" { s = id[$3]; rows[s] = rows[s] "| `" $4 "` | " $5 " | " $6 " | " $7 " | `" $8 "` |\n" }
        END {
            for (i = 1; i <= n; i++) {
                printf "## [%s%s]\n\n%s%s.\n\n", head[i], naming[i] == "NAMED" ? " NAME" : "",
                    toupper(substr(what[i], 1, 1)), substr(what[i], 2)
                print "| key | what to write | range | default | example |"
                print "|---|---|---|---|---|"
                print rows[i]
            }
        }'
    exit 0
fi

# --- the project file ---------------------------------------------------------------------

key_list() {
    project_keys | awk -F@ '
        $2 == "S" { head[$3] = "[" $4 ($5 == "NAMED" ? " NAME" : "") "]"; print head[$3] }
        $2 == "K" { print head[$3] " | " $4 " | " $5 " | " $6 " | " $7 " | " $8 }'
}

key_tables() {
    awk '
        /^## \[/ { head = $0; sub(/^## */, "", head); print head; next }
        /^#/ { head = "" }
        head && /^\| *`/ {
            gsub(/`/, "")
            sub(/^\| */, "")
            split($0, cell, "|")
            line = head
            for (i = 1; i <= 5; i++) {
                gsub(/^ *| *$/, "", cell[i])
                line = line " | " cell[i]
            }
            print line
        }' docs/project-file.md
}

project_file() {
    key_list >"$scratch/program"
    key_tables >"$scratch/document"
    same "key" "src/read/project/keys.h" "$scratch/program" "docs/project-file.md" "$scratch/document"
}

# A row of the table named with its value, `tail_in` (6 in) or `margin_measured` (10 %), says what the table has.
rows_said() {
    for page in $(pages); do
        # shellcheck disable=SC2016 # the quotes of a page
        grep -oE '`[a-z_]+` \([0-9][0-9./]*( %)?' "$page"
    done | tr -d '`(' | awk '
        { n = split($2, part, "/"); print $1, part[1] / (n > 1 ? part[2] : 1) / ($3 == "%" ? 100 : 1) }' >"$scratch/all"
    awk -F, '$5 && $2 + 0 == $2 { print $1, $2 + 0 }' tables/allowances.csv >"$scratch/has"
    sed 's/ .*//' "$scratch/has" | sort >"$scratch/rows"
    sort "$scratch/all" | join - "$scratch/rows" >"$scratch/said"
    within "value of a row" "the documents" "$scratch/said" "tables/allowances.csv" "$scratch/has"
}

# --- diagnostics --------------------------------------------------------------------------

diagnostics() {
    diagnostic_codes | awk -F@ '{ print "[" $3 "] " $5 }' >"$scratch/program"
    sed -n 's/^###* \(\[[a-z-]*\] .*\)$/\1/p' docs/diagnostics.md >"$scratch/document"
    same "diagnostic" "src/base/diag_codes.h" "$scratch/program" \
        "docs/diagnostics.md" "$scratch/document"
}

# A message nothing provokes may never come, or come wrong: stored messages and the tests by name.
provoked() {
    diagnostic_codes | while IFS=@ read -r _ name code _; do
        if grep -qsF "[$code]" tests/golden/*.txt || grep -qsw "DIAG_$name" tests/unit/*/*.c; then
            echo "$code" >>"$scratch/provoked"
        fi
        echo "$code" >>"$scratch/codes"
    done
    touch "$scratch/provoked"
    within "diagnostic" "src/base/diag_codes.h" "$scratch/codes" "any test" "$scratch/provoked"
}

# --- commands and options -----------------------------------------------------------------

help_words() {
    "$program" --help >"$scratch/help" || return 1
    sed -n 's/^  strandwise \([a-z][a-z]*\) .*/\1/p' "$scratch/help" | sort -u >"$scratch/commands"
    while read -r command; do
        "$program" "$command" --help
    done <"$scratch/commands" >>"$scratch/help"
    grep -oE '(^|[^[:alnum:]-])--?[a-z][a-z-]*' "$scratch/help" | grep -oE -- '-.*' |
        sort -u >"$scratch/options"
    sort -u "$scratch/commands" "$scratch/options" >"$scratch/words"
}

man_words() {
    grep -oE '(Cm|Ic) [a-z]+' docs/strandwise.1 | sed 's/.* //' | sort -u >"$scratch/cm"
    grep -oE 'Fl [a-z-]+' docs/strandwise.1 | sed 's/^Fl /-/' | sort -u >"$scratch/fl"
}

# What each command takes, an option a line behind it, with its choices: "draw --side right|wrong".
option_table() {
    list_macro '-DCOMMAND(name,words,fewest,most,summary,help)=' '-DOPTION(word,field,value,help)=@O@word@value' \
        '-DUSE(command,option,value,form)=@U@command@option@value' -x c src/app/options.h |
        sed 's/"//g; s/@ */@/g; s/ *@/@/g' >"$scratch/table"
    awk -F@ '
        $2 == "O" { own[$3] = $4 }
        $2 == "U" { command[++n] = $3; option[n] = $4; value[n] = $5 }
        END {
            for (i = 1; i <= n; i++) {
                of = value[i] == "NULL" ? own[option[i]] : value[i]
                print command[i], option[i] (of ~ /\|/ ? " " of : "")
            }
        }' "$scratch/table"
}

# The same of the man page's synopsis.
man_synopsis() {
    awk '
        /^\.Sh/ { on = $2 == "SYNOPSIS"; next }
        !on { next }
        /^\.Nm/ { command = ""; next }
        command == "" { command = $2; next }
        {
            for (i = 1; i < NF; i++) {
                if ($i !~ /^[.]?Fl$/) continue
                choices = $(i + 2) == "Cm" ? " " $(i + 3) : ""
                for (j = i + 3; choices && $(j + 1) == "|"; j += 2) choices = choices "|" $(j + 2)
                print command, "-" $(i + 1) choices
            }
        }' docs/strandwise.1
}

# Each option has its place in the man page's list, and each command its options in the synopsis.
options() {
    option_table >"$scratch/program"
    man_synopsis >"$scratch/document"
    same "option" "src/app/options.h" "$scratch/program" "the synopsis of docs/strandwise.1" "$scratch/document"
    awk -F@ '$2 == "O" { print $3 } END { print "--help"; print "--version" }' "$scratch/table" >"$scratch/program"
    sed -n 's/^\.It Fl \([a-z-]*\).*/-\1/p' docs/strandwise.1 >"$scratch/document"
    same "option" "src/app/options.h" "$scratch/program" "the list of docs/strandwise.1" "$scratch/document"
}

commands() {
    help_words || fail "$program --help does not run"
    man_words
    within "command" "--help" "$scratch/commands" "docs/strandwise.1" "$scratch/cm"
    same "option" "--help" "$scratch/options" "docs/strandwise.1" "$scratch/fl"
    verdict "docs/strandwise.1 is not clean" mandoc -T lint -W warning docs/strandwise.1
    exit_statuses=$(grep -cE '^\.It (Li )?[0-3]$' docs/strandwise.1)
    verdict "docs/strandwise.1 lists $exit_statuses exit statuses, not 4" [ "$exit_statuses" -eq 4 ]
}

# --- the schema -----------------------------------------------------------------------------

# As it comes from the tables that write the JSON; make golden-update stores it.
schema() {
    "${MAKE:-make}" -s B="$B" "$B/schema" || fail "$B/schema cannot be built"
    for what in plan redraw; do
        "$B/schema" $what >"$scratch/schema"
        verdict "docs/$what.schema.json is not what the tables of src/render/json say" \
            cmp -s docs/$what.schema.json "$scratch/schema"
    done
}

# --- what the pages mention ---------------------------------------------------------------

pages() {
    for page in README.md DEVELOPERS.md docs/*.md docs/decisions/*.md; do
        [ ! -f "$page" ] || echo "$page"
    done
}

# Code of a page: `spans` and indented or fenced lines.
code_of() {
    awk '/^ *```/ { fenced = !fenced; next } fenced || /^    / { print; next }
        { n = split($0, span, "`"); for (i = 2; i <= n; i += 2) print span[i] }' "$1"
}

mentions() {
    for page in $(pages); do
        code_of "$page" >"$scratch/code"
        grep -oE 'strandwise (--?)?[a-z][a-z-]*' "$scratch/code" | sed 's/strandwise //' >"$scratch/said"
        within "command" "$page" "$scratch/said" "--help" "$scratch/words"
        grep -oE '(^|[ (])make [a-z][a-z-]*' "$scratch/code" | sed 's/.*make //' >"$scratch/said"
        sed -n 's/^\([a-z][a-z-]*\):.*##.*/\1/p' Makefile >"$scratch/targets"
        within "make target" "$page" "$scratch/said" "the Makefile" "$scratch/targets"
        grep -oE '\b[a-z]+(_[a-z0-9]+)+\(\)' "$scratch/code" | tr -d '()' | sort -u >"$scratch/said"
        while read -r name; do
            verdict "$page mentions $name(), which is not in src" grep -rqw "$name" src
        done <"$scratch/said"
        grep -oE '\]\([^):# ]+' "$page" | sed 's/^](//' >"$scratch/said"
        while read -r link; do
            verdict "$page links to $link, which is not there" [ -e "$(dirname "$page")/$link" ]
        done <"$scratch/said"
    done
}

# The pipeline in the same words everywhere, and every document there.
house() {
    for page in README.md DEVELOPERS.md LICENSE docs/terms.md docs/formulas.md docs/CHANGELOG.md; do
        verdict "$page is not there" [ -f "$page" ]
    done
    for page in README.md DEVELOPERS.md "$scratch/help"; do
        verdict "$(basename "$page") does not name the pipeline" \
            grep -qF "read -> check -> model -> plan -> render" "$page"
    done
    version=$(sed -n 's/^VERSION *:= *//p' Makefile)
    verdict "--version is not the Makefile's $version" \
        [ "$("$program" --version | head -n 1)" = "strandwise $version" ]
    sed -n 's/.*apt-get install\([^&]*\).*/\1/p' README.md | tr -s ' ' '\n' |
        grep -E '^[a-z0-9]' >"$scratch/said"
    verdict "README.md installs nothing" [ -s "$scratch/said" ]
    tr -cs 'a-z0-9.+-' '\n' <.ci/run >"$scratch/installed"
    within "package" "README.md" "$scratch/said" ".ci/run" "$scratch/installed"
}

# One line a message: without the lines quoted from the project, and the blanks of the layout.
flatten() {
    sed 's#tests/bad/##g; s#tests/cautions/##g' | grep -vE '^ +[0-9]* *\|' | tr -s ' \n' '  '
}

# The examples of docs/diagnostics.md, and README's plan, are what the program prints.
examples() {
    awk -v out="$scratch/block" '
        /^```text/ { n++; on = 1; next }
        /^```/ { on = 0 }
        on { print > (out n) }' docs/diagnostics.md
    for block in "$scratch"/block*; do
        project=$(sed -n '1s/^\([a-z0-9-]*\)\.ini:.*/\1/p' "$block")
        golden=$(ls "tests/golden/bad-$project.txt" "tests/golden/caution-$project.txt" 2>/dev/null)
        [ -n "$golden" ] || continue
        verdict "docs/diagnostics.md: not what $project.ini is told" \
            grep -qF "$(flatten <"$block")" <<END
$(flatten <"$golden")
END
    done
    awk '/^```$/ { on = !on; next } on && /^Barley sock tops/ { mine = 1 } !on { mine = 0 }
        mine && NF && $0 !~ /^ *\.\.\.$/' README.md >"$scratch/sample"
    verdict "README.md shows no plan" [ -s "$scratch/sample" ]
    while IFS= read -r line; do
        verdict "README.md: the plan has no line: $line" \
            grep -qxF -- "$line" tests/golden/barley-socks.txt
    done <"$scratch/sample"
}

project_file
rows_said
diagnostics
examples
schema
provoked
commands
options
mentions
house
finish docs
