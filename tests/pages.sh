#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Papers to print: A4, every word of the plan on them, no word off the page or on another.
cd "$(dirname "$0")/.." || exit 1
# shellcheck source=tests/tally.sh
. tests/tally.sh

# Printed words as one line without blanks, so that neither breaks nor ties matter.
pressed() {
    sed 's/–/-/g; s/×/x/g' "$@" | tr -d '[:space:]\014'
}

holds() { # WHAT WORDS: in $scratch/pressed
    pressed >"$scratch/wanted" <<WORDS
$2
WORDS
    verdict "$1: \"$2\" is not there" grep -qF -- "$(cat "$scratch/wanted")" "$scratch/pressed"
}

lacks() { # WORDS FILE
    ! grep -q -- "$1" "$2"
}

# Words with their places; a page's size stands before its words. Out: each that is off its page.
stray() {
    awk -F'"' '
        /<page / { wide = $2; high = $4 }
        /<word / && ($2 < 0 || $4 < 0 || $6 > wide || $8 > high) { print }' "$1"
}

# Words of one page that lie on each other by more than a point both ways.
clashing() {
    awk -F'"' '
        /<page / { page++ }
        /<word / { # words are kept by strips of the page, 20 points high
            for (s = int($4 / 20) - 2; s <= int($8 / 20); s++)
                for (i = 0; i < n[page, s]; i++) {
                    split(box[page, s, i], b, " ")
                    if ($2 + 1 < b[3] && b[1] + 1 < $6 && $4 + 1 < b[4] && b[2] + 1 < $8)
                        print word[page, s, i] " and " $0
                }
            s = int($4 / 20)
            word[page, s, n[page, s] + 0] = $0
            box[page, s, n[page, s]++ + 0] = $2 " " $4 " " $6 " " $8
        }' "$1"
}

# is_printable WHAT PDF: A4, nothing off the page, no words on each other.
is_printable() {
    pdfinfo -l 999 "$2" >"$scratch/info" 2>&1
    sizes=$(sed -n 's/^Page.* size: *//p' "$scratch/info" | sort -u | tr '\n' ',')
    pages=$(sed -n 's/^Pages: *//p' "$scratch/info")
    case $sizes in
    '595.276 x 841.89 pts (A4),' | '841.89 x 595.276 pts (A4),' | \
        '595.276 x 841.89 pts (A4),841.89 x 595.276 pts (A4),') pass ;;
    *) fail "$1: not on A4, but $sizes" ;;
    esac
    pdftotext -bbox "$2" "$scratch/boxes"
    verdict "$1: there are no words" grep -q '<word ' "$scratch/boxes"
    stray "$scratch/boxes" >"$scratch/stray"
    verdict "$1: off the page: $(head -n 2 "$scratch/stray")" [ ! -s "$scratch/stray" ]
    clashing "$scratch/boxes" >"$scratch/clashing"
    verdict "$1: words on words: $(head -n 2 "$scratch/clashing")" [ ! -s "$scratch/clashing" ]
    pdftotext -layout "$2" "$scratch/text"
    pressed "$scratch/text" >"$scratch/pressed"
    holds "$1" "page $pages of $pages"
}

# same_again WHAT PDF WORDS...: made a second time it has the same bytes.
same_again() {
    what=$1
    first=$2
    shift 2
    "$program" "$@" -o "$scratch/again.pdf" 2>"$scratch/err"
    verdict "$what: made twice, not the same" cmp -s "$first" "$scratch/again.pdf"
}

bag_page() { # PROJECT PDF
    pdftotext -layout -l 1 "$2" "$scratch/text"
    pressed "$scratch/text" >"$scratch/pressed"
    for heading in 'Before you cast on' 'What to buy' 'Cast on and shape' 'The chart'; do
        holds "$1, page for the bag" "$heading"
    done
    if [ "$(jq '[.bands[] | select((.colours | length) > 1)] | length' "$scratch/plan.json")" -gt 0 ]; then
        verdict "$1, page for the bag: not how long a float is left loose" \
            grep -qE 'Afloatof.*(leftloose|iscaught)' "$scratch/pressed"
    fi
    holds "$1, page for the bag" "Cast on $(jq .cast_on.stitches "$scratch/plan.json")"
    jq -r '.yarn[] | select(.stitches > 0) | .yarn' "$scratch/plan.json" >"$scratch/yarns"
    while read -r yarn; do holds "$1, page for the bag" "$yarn"; done <"$scratch/yarns"
    verdict "$1: no yarn to look for" [ -s "$scratch/yarns" ]
}

whole_plan() { # PROJECT PDF
    pdftotext -layout "$2" "$scratch/text"
    pressed "$scratch/text" >"$scratch/pressed"
    "$program" plan "$1" 2>"$scratch/err" >"$scratch/report"
    grep -E '^[A-Z][A-Z ,]{3,}(  |$)' "$scratch/report" | sed 's/  .*//' |
        grep -vE '^(BEFORE YOU CAST ON|BUY|CAST ON AND SHAPE)$' >"$scratch/headings"
    verdict "$1: the report has no headings" [ "$(wc -l <"$scratch/headings")" -gt 3 ]
    while read -r heading; do holds "$1" "$heading"; done <"$scratch/headings"
    "$program" directions "$1" 2>"$scratch/err" |
        awk '/^  R/ { last = "" } /^  / { last = last $0 "\n" } END { printf "%s", last }' >"$scratch/last"
    verdict "$1: no last round" grep -q 'R' "$scratch/last"
    holds "$1, last round" "$(cat "$scratch/last")"
}

# Headings of the report stand alone in bold: none is the last line of a page.
keeps_headings() { # WHAT PDF
    awk 'BEGIN { RS = "\f" } {
        n = split($0, line, "\n")
        for (last = n; last > 0; last--) {
            if (line[last] ~ /page [0-9]+ of [0-9]+/ || line[last] ~ /^ *$/) continue
            if (line[last] ~ /^ *[A-Z][A-Z ,]+[A-Z](  |$)/) print line[last]
            break
        }
    }' "$scratch/text" >"$scratch/alone"
    verdict "$1: a heading without its lines: $(head -n 1 "$scratch/alone")" [ ! -s "$scratch/alone" ]
}

# The total below a ruled line stands on the page with all it is the total of: its lines go up to the
# names over its columns, and down to the sum.
keeps_totals() { # WHAT
    awk 'function indent(words) { match(words, /^ */); return RLENGTH }
        BEGIN { RS = "\f" } {
            n = split($0, line, "\n")
            for (i = 1; i <= n; i++) {
                if (line[i] !~ /^ *-----[- ]*$/) continue
                for (top = i; top > 1 && line[top - 1] !~ /^ *$/; top--) continue
                if (top == i || indent(line[top]) < indent(line[i]) - 4 || line[i + 1] !~ /^ *in all/) print NR
            }
        }' "$scratch/text" >"$scratch/parted"
    verdict "$1: a total without its table on page $(cat "$scratch/parted")" [ ! -s "$scratch/parted" ]
    verdict "$1: no total" grep -q '^ *-----[- ]*$' "$scratch/text"
}

# The examples, and of the projects worked by hand one of a kind.
of_a_kind='choices crowded-flat crowded-round edge heel jumper ladder measured seeds shares sizes steek
    turn-3 unlike-sewn weighed'
hand=
for kind in $of_a_kind; do hand="$hand tests/projects/$kind.ini"; done
for project in examples/*/*.ini $hand; do
    pdf=$scratch/plan.pdf
    "$program" plan "$project" -o "$pdf" 2>"$scratch/err"
    verdict "$project: the plan ends with $?" [ $? -eq 0 ]
    "$program" plan "$project" --as json 2>"$scratch/err" >"$scratch/plan.json"
    is_printable "$project" "$pdf"
    bag_page "$project" "$pdf"
    whole_plan "$project" "$pdf"
    keeps_headings "$project" "$pdf"
    keeps_totals "$project"
    same_again "$project" "$pdf" plan "$project"
    "$program" lesson "$project" -o "$pdf" 2>"$scratch/err"
    verdict "$project: the lesson ends with $?" [ $? -eq 0 ]
    is_printable "$project, lesson" "$pdf"
    holds "$project, lesson" "Floats: find them and catch them"
    holds "$project, lesson" "Floats and catches: the answers"
    jq -r '(if .worked == "flat" then "Row" else "Round" end) as $row | .bands[]
        | select(.repeats > 1) | .catches | group_by(.row)[]
        | "\($row) \(.[0].row): catch \(.[0].strand) behind stitch"' "$scratch/plan.json" >"$scratch/rows"
    while read -r row; do holds "$project, lesson" "$row"; done <"$scratch/rows"
    same_again "$project, lesson" "$pdf" lesson "$project"
done

# By hand: bark floats behind 9 and behind 11 stitches in rounds 17 and 24, 8 are left loose.
"$program" lesson examples/barley-socks/barley-socks.ini -o "$scratch/lesson.pdf" 2>"$scratch/err"
pdftotext -layout -f 2 -l 2 "$scratch/lesson.pdf" "$scratch/text"
pressed "$scratch/text" >"$scratch/pressed"
holds "lesson of the barley socks" "bark 2 2 11 stitches"
pdftotext -layout -l 1 "$scratch/lesson.pdf" "$scratch/text"
pressed "$scratch/text" >"$scratch/pressed"
holds "lesson of the barley socks" "longer than 8 stitches"
verdict "the class is shown a catch" lacks catchbark "$scratch/pressed"

# --- far too much for one page -----------------------------------------------------------

awk 'BEGIN {
    marks = ".xabcdefghijklmn"
    print "[project]\ntitle = A jersey whose title goes on and on and does not come to an end before the edge of any page there is\nworked = round\nmake = 2"
    print "[swatch]\nworked = round\nwashed = no\nover = 4 in\nstitches = 20, 21, 22\nrows = 26, 26"
    print "[wearer]\nchild = yes\n[float]\nplacement = quick\nleave up to = 2 in\n[cast-on]\nyarn = 1 yarn"
    for (i = 1; i <= 12; i++)
        printf "[plain part %d]\nrounds = 3\nyarn = 1 yarn\n[band with a long name and the number %d]\nchart = s.chart\nrepeats = %d\n", i, i, 10 + i % 3
    for (i = 1; i <= 16; i++)
        printf "[yarn %d yarn%s]\nmark = %s\nball = 50 g, 200 m\n", i, (i > 1 ? " in a colour whose name is far too long" : ""), substr(marks, i, 1)
}' >"$scratch/much.ini"
printf '.xabcdefghijklmn\nx...............\n' >"$scratch/s.chart"
"$program" plan "$scratch/much.ini" -o "$scratch/much.pdf" 2>"$scratch/err"
verdict "twelve bands: the plan ends with $?" [ $? -eq 0 ]
is_printable "twelve bands" "$scratch/much.pdf"
pdftotext -layout -l 1 "$scratch/much.pdf" - | pressed >"$scratch/pressed"
holds "twelve bands, page for the bag" "more: see the words"
holds "twelve bands, page for the bag" "small fingers and toes"
pdftotext -layout "$scratch/much.pdf" - | pressed >"$scratch/pressed"
holds "twelve bands" "CAST ON AND SHAPE"

# --- what cannot be done -----------------------------------------------------------------

project=examples/barley-socks/barley-socks.ini
for command in plan lesson; do
    "$program" "$command" "$project" -o "$scratch/missing/a.pdf" 2>"$scratch/err"
    verdict "$command: a missing folder does not end with 3" [ $? -eq 3 ]
    verdict "$command: nothing is said of a missing folder" [ -s "$scratch/err" ]
    mkdir -p "$scratch/folder.pdf"
    "$program" "$command" "$project" -o "$scratch/folder.pdf" 2>"$scratch/err"
    verdict "$command: a folder does not end with 3" [ $? -eq 3 ]
    verdict "$command: something is left in a folder" [ -z "$(ls -A "$scratch/folder.pdf")" ]
    mkdir -p "$scratch/kept"
    printf 'old' >"$scratch/kept/old.pdf"
    chmod a-w "$scratch/kept" "$scratch/kept/old.pdf"
    if [ ! -w "$scratch/kept" ]; then # the one who may do all may do this too
        "$program" "$command" "$project" -o "$scratch/kept/old.pdf" 2>"$scratch/err"
        verdict "$command: a folder not to be written in does not end with 3" [ $? -eq 3 ]
        verdict "$command: what was there is gone" [ "$(cat "$scratch/kept/old.pdf")" = old ]
    fi
    chmod u+w "$scratch/kept"
    if [ -w /dev/full ]; then
        as=
        [ "$command" = lesson ] || as='--as pdf'
        # shellcheck disable=SC2086 # two words or none
        "$program" "$command" "$project" $as 2>"$scratch/err" >/dev/full
        verdict "$command: a full disk does not end with 3" [ $? -eq 3 ]
        # shellcheck disable=SC2086 # two words or none
        "$program" "$command" "$project" $as -o /dev/full 2>"$scratch/err"
        verdict "$command: a full device does not end with 3" [ $? -eq 3 ]
    fi
done
"$program" plan "$project" --as papers 2>"$scratch/err" >"$scratch/out"
verdict "--as papers does not end with 2" [ $? -eq 2 ]
"$program" lesson "$project" --band nowhere 2>"$scratch/err" >"$scratch/out"
verdict "a lesson on an unknown band does not end with 2" [ $? -eq 2 ]
verdict "a lesson on an unknown band makes something" [ ! -s "$scratch/out" ]
if script -qec true /dev/null >/dev/null 2>&1 </dev/null; then # a screen of its own, where there can be one
    script -qec "$program plan $project --as pdf" "$scratch/typed" >/dev/null </dev/null
    verdict "a PDF to the screen does not end with 2" [ $? -eq 2 ]
    verdict "a PDF goes to the screen" lacks %PDF "$scratch/typed"
fi
finish pages
