#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The command line as a habit of hand: exit statuses, help, pipes, full disks, other locales.
cd "$(dirname "$0")/.." || exit 1
# shellcheck source=tests/tally.sh
. tests/tally.sh
case $program in
/*) ;;
*) program=$PWD/$program ;;
esac

# run WORDS...: the program, its streams kept, its exit status in $status.
run() {
    "$program" "$@" >"$scratch/out" 2>"$scratch/err" </dev/null
    status=$?
}

# ends STATUS WORDS...: the program ends so.
ends() {
    wanted=$1
    shift
    run "$@"
    verdict "strandwise $* ends with $status, not $wanted: $(head -n 3 "$scratch/err")" \
        [ "$status" -eq "$wanted" ]
}

says() {
    verdict "$1: $3 does not hold \"$2\"" grep -q -- "$2" "$scratch/$3"
}

silent() {
    verdict "$1: standard $2 is not empty" [ ! -s "$scratch/$2" ]
}

starter() {
    ends 0 start "$scratch/new"
    project=$(find "$scratch/new" -name '*.ini')
    verdict "start writes no project file" [ -f "$project" ]
    ends 0 plan "$project"
    says plan "stitches" out
    ends 0 directions "$project"
    says directions "." out
    ends 0 check "$project"
    ends 3 start "$scratch/new"
    says "start a second time" "already" err
}

help() {
    ends 0 --help
    silent --help err
    cp "$scratch/out" "$scratch/help"
    for command in plan directions lesson ladder check start spread fit float resize tables; do
        verdict "--help does not name $command" grep -q "strandwise $command" "$scratch/help"
        ends 0 "$command" --help
        says "$command --help" "strandwise $command" out
        silent "$command --help" err
    done
    ends 0 --version
    says --version '^strandwise [0-9][0-9.]*$' out
    verdict "--help is wider than 80 columns" [ "$(awk 'length > 80' "$scratch/help" | wc -l)" -eq 0 ]
}

usage() {
    ends 2
    ends 2 paln "$project"
    says paln "plan" err
    silent paln out
    ends 2 plan
    ends 2 plan "$project" --as yaml
    ends 2 plan "$project" --colour
    ends 2 plan "$project" --as
    ends 2 ladder "$project" --as pdf
    ends 2 plan "$project" extra
    ends 2 tables nowhere
    silent "a wrong command line" out
}

files() {
    ends 3 plan "$scratch/nowhere.ini"
    says "a missing file" "nowhere.ini" err
    silent "a missing file" out
    ends 3 plan "$project" -o "$scratch/no/such/folder/plan.txt"
    verdict "-o into a missing folder made it" [ ! -e "$scratch/no" ]
    mkdir "$scratch/taken"
    ends 3 plan "$project" -o "$scratch/taken"
    verdict "-o onto a folder left something in it" [ -z "$(ls -A "$scratch/taken")" ]
    ends 0 plan "$project" -o "$scratch/plan.txt"
    silent "plan -o" out
    run plan "$project"
    verdict "-o writes another text than the screen gets" cmp -s "$scratch/out" "$scratch/plan.txt"
    leftovers=$(find "$scratch" -maxdepth 1 -name '*plan.txt*' | wc -l)
    verdict "-o leaves $leftovers files, not one" [ "$leftovers" -eq 1 ]
}

# Faults in the project while -o names a file that is there: it stays as it was.
keeps_old_output() {
    printf 'kept\n' >"$scratch/old.txt"
    printf '[projekt]\n' >"$scratch/faulty.ini"
    ends 1 plan "$scratch/faulty.ini" -o "$scratch/old.txt"
    verdict "a fault wrote over the file of -o" grep -qx kept "$scratch/old.txt"
    says "a faulty project" "faulty.ini:1:" err
    says "a section nobody knows" "project" err
}

# What is no project file at all.
no_text() {
    : >"$scratch/empty.ini"
    printf '[project]\ntitle = a\000b\n' >"$scratch/nul.ini"
    printf '[project]\ntitle = \377\376\n' >"$scratch/latin.ini"
    head -c 300000 /dev/zero | tr '\0' '#' >"$scratch/line.ini"
    head -c 2000000 /dev/zero | tr '\0' '\n' >"$scratch/huge.ini"
    for file in empty nul latin line huge; do
        ends 1 plan "$scratch/$file.ini"
        silent "$file.ini" out
        says "$file.ini" "$file.ini" err
    done
    run plan "$scratch"
    verdict "a folder ends with $status" [ "$status" -eq 1 -o "$status" -eq 3 ]
    run plan /dev/zero
    verdict "/dev/zero ends with $status" [ "$status" -eq 1 -o "$status" -eq 3 ]
}

streams() {
    if [ -c /dev/full ]; then
        "$program" plan "$project" >/dev/full 2>"$scratch/err"
        verdict "a full disk goes unnoticed" [ $? -eq 3 ]
        says "a full disk" "." err
        "$program" --help >/dev/full 2>/dev/null
        verdict "a full disk goes unnoticed by --help" [ $? -eq 3 ]
    fi
    verdict "a pipe that closes early is noisy" \
        [ -z "$( ("$program" plan "$project" --as json | head -n 1 >/dev/null) 2>&1)" ]
    run plan "$project"
    verdict "colours without a terminal" [ "$(grep -c "$(printf '\033')" "$scratch/out")" -eq 0 ]
    (cd "$(dirname "$project")" && "$program" plan - <"$(basename "$project")" >"$scratch/stdin" 2>&1)
    verdict "a project on standard input is not planned" [ $? -eq 0 ]
    if script -qec true /dev/null >/dev/null 2>&1; then
        script -qec "NO_COLOR=1 TERM=xterm '$program' plan '$project'" /dev/null >"$scratch/tty"
        verdict "NO_COLOR is not heeded on a terminal" \
            [ "$(grep -c "$(printf '\033')" "$scratch/tty")" -eq 0 ]
    fi
}

# Nothing is written over what was read: the project, a chart, a table, whatever it is called.
inputs_stay() {
    cp -R "$scratch/new" "$scratch/stay"
    stay=$(find "$scratch/stay" -name '*.ini')
    chart=$(find "$scratch/stay" -name '*.chart' | head -n 1)
    cp "$stay" "$scratch/stay.ini"
    cp "$chart" "$scratch/stay.chart"
    ln -s "$(basename "$chart")" "$scratch/stay/link"
    for form in plan draw directions; do
        ends 3 "$form" "$stay" -o "$stay"
    done
    says "a result over the project" "one of the files this was made from" err
    ends 3 draw "$stay" -o "$chart"
    ends 3 draw "$stay" -o "$scratch/stay/link"
    ends 3 resize "$stay" --gauge '26 sts, 34 rows' --over '4 in' -o "$chart" --replace
    ends 2 resize "$stay" --gauge '26 sts, 34 rows' --over '4 in' -o "$stay" --replace
    cp -R examples/toadstool-hat "$scratch/stay-hat"
    ends 3 resize "$scratch/stay-hat/toadstool-hat.ini" --band toadstools --columns 10 -o "$scratch/stay-hat/toadstool.png" --replace
    verdict "a chart that is a picture was written over" \
        cmp -s "$scratch/stay-hat/toadstool.png" examples/toadstool-hat/toadstool.png
    "$program" tables allowances >"$scratch/stay/allowances.csv"
    ends 3 plan "$stay" --as text --table "$scratch/stay/allowances.csv" -o "$scratch/stay/allowances.csv"
    verdict "the project was written over" cmp -s "$stay" "$scratch/stay.ini"
    verdict "a chart was written over" cmp -s "$chart" "$scratch/stay.chart"
}

# JSON holds no cautions in words: they are said beside it, however it was asked for; text holds its own.
cautions_beside() {
    cushion=examples/moth-cushion/moth-cushion.ini
    ends 0 plan "$cushion" --as json
    says "plan --as json" "Caution:" err
    cp "$scratch/err" "$scratch/beside"
    ends 0 plan "$cushion" -o "$scratch/cushion.json"
    verdict "plan -o x.json does not tell what --as json tells" cmp -s "$scratch/err" "$scratch/beside"
    ends 0 plan "$cushion" -o "$scratch/cushion.txt"
    silent "plan -o x.txt" err
    ends 0 plan "$cushion" --as text -o "$scratch/cushion.json"
    silent "plan --as text -o x.json" err
}

# The project is read, never touched; the same in gives the same out, wherever and whenever.
same_again() {
    cp -R "$scratch/new" "$scratch/copy"
    run plan "$project" --as json
    cp "$scratch/out" "$scratch/first"
    verdict "planning changed the project" diff -r "$scratch/new" "$scratch/copy"
    TZ=Asia/Tokyo LC_ALL=de_DE.UTF-8 LANG=tr_TR.UTF-8 COLUMNS=40 \
        "$program" plan "$project" --as json >"$scratch/second" 2>/dev/null
    verdict "another locale gives another plan" cmp -s "$scratch/first" "$scratch/second"
    run plan "$project"
    cp "$scratch/out" "$scratch/first"
    LC_ALL=de_DE.UTF-8 COLUMNS=40 "$program" plan "$project" >"$scratch/second" 2>/dev/null
    verdict "another locale gives another text" cmp -s "$scratch/first" "$scratch/second"
}

# Worked by hand: 72 + 12 = 84 is k3, (m1, k6) ...: 12 increases, 6 stitches apart. A float over 9
# at 5 to the inch is caught on the 5th stitch (common practice).
calculators() {
    ends 0 spread 72 to 84
    says "spread 72 to 84" "72 + 12 = 84" out
    ends 0 spread 84 to 72 --flat
    says "spread 84 to 72" "84 - 12 = 72" out
    ends 2 spread 72 to
    run spread 0 to 12
    verdict "spread from 0 stitches ends with $status" [ "$status" -ne 0 ]
    ends 0 fit 12 --measure '26 cm' --stitches 32 --over '4 in'
    says "a measure in cm" "stitches, 7 x 12: 26.7 cm (10 1/2 in)" out
    ends 0 fit 12 --measure '10 1/4 in' --stitches 32 --over '4 in'
    says fit "84" out
    ends 0 float 9 --stitches 20 --over '4 in'
    says "float 9" "5th" out
    run float 9 --stitches 20 --over '4 in' --leave-up-to '1 in' --catch-at '1 in'
    verdict "two float limits at once end with $status" [ "$status" -ne 0 ]
}

tables() {
    ends 0 tables
    says tables allowances out
    ends 0 tables allowances
    verdict "tables allowances is not the file itself" cmp -s "$scratch/out" tables/allowances.csv
    ends 0 tables --check
    cp tables/allowances.csv "$scratch/allowances.csv"
    ends 0 plan "$project" --table "$scratch/allowances.csv"
    sed 's/^slack_default,[^,]*/slack_default,twelve/' tables/allowances.csv >"$scratch/allowances.csv"
    run plan "$project" --table "$scratch/allowances.csv"
    verdict "a table with a word for a number ends with $status" [ "$status" -eq 1 ]
    says "a faulty table" "allowances.csv:[0-9]" err
}

# One gauge after another; a project without a swatch is good enough for it, and for nothing else.
ladder() {
    ends 0 ladder "$project"
    says ladder "LADDER OF GAUGES" out
    ends 0 ladder "$project" -o "$scratch/ladder.json"
    verdict "ladder.json holds no ladder" [ "$(jq '.ladder.rungs | length > 4' "$scratch/ladder.json")" = true ]
    ends 0 ladder tests/ladder/no-swatch.ini
    says "a ladder without a swatch" "No swatch is given" out
    ends 1 plan tests/ladder/no-swatch.ini
    says "a plan without a swatch" "There is no swatch" err
    ends 2 ladder "$project" -o "$scratch/ladder.pdf"
}

# What a file's name promises is what is written, or nothing.
names() {
    ends 2 plan "$project" -o "$scratch/plan.png"
    says "a plan as a picture" "txt, json or pdf" err
    ends 2 draw "$project" -o "$scratch/chart.jpg"
    ends 2 lesson "$project" -o "$scratch/lesson.svg"
    ends 2 directions "$project" -o "$scratch/words.pdf"
    for name in plan.png chart.jpg lesson.svg words.pdf; do
        verdict "$name was written" [ ! -e "$scratch/$name" ]
    done
    ends 0 plan "$project" -o "$scratch/plan.JSON"
    verdict "plan.JSON is no JSON" [ "$(jq '.bands | length > 0' "$scratch/plan.JSON")" = true ]
    ends 0 plan "$project" -o "$scratch/plan.md"
    verdict "plan.md is not the plan" grep -q 'BEFORE YOU CAST ON' "$scratch/plan.md"
}

# A chart redrawn: what cannot be is said with what would work, and no file is written over unasked.
redrawn() {
    cp examples/barley-socks/* "$scratch"
    barley=$scratch/barley-socks.ini
    ends 2 resize "$barley"
    says "no gauge" "give the new gauge" err
    ends 0 resize "$barley" --columns 16
    says "the gauge as it is" "now 16" out
    ends 2 resize "$barley" --gauge '0 sts, 34 rows' --over '4 in'
    says "gauge 0" "no gauge that can be knitted" err
    ends 2 resize "$barley" --gauge '26, 34' --over '4 in'
    ends 2 resize "$barley" --gauge '26 sts, 34 rows'
    says "no length" "--over" err
    ends 2 resize "$barley" --try nowhere
    ends 2 resize "$barley" --gauge '26 sts, 34 rows' --over '4 in' --columns 0
    says "no stitches" "from 1 to 400" err
    ends 2 resize "$barley" --gauge '26 sts, 34 rows' --over '4 in' --columns 80
    says "wider than the piece" "at most --columns 66" err
    ends 2 resize "$barley" --columns 1
    says "one stitch" "cannot show this motif" err
    silent "one stitch" out
    ends 2 resize "$barley" --columns "12 rows"
    says "a count of rows for stitches" "--columns takes a whole number" err
    ends 0 resize "$barley" --columns "12 sts" --rows "26 rounds"
    ends 0 resize "$barley" --columns 6
    ends 2 resize "$barley" --over '4 in' --columns 12
    says "a length without a gauge" "give that too" err
    ends 2 resize "$barley" --columns 12 --as xml
    says "--as xml" "text or json" err
    ends 2 resize "$barley" --columns 12 --as json -o -
    says "chart and JSON" "cannot both" err
    for name in new.ini new.json new.svg new.pdf; do
        ends 2 resize "$barley" --columns 12 -o "$scratch/$name"
        says "-o $name" "ends in .chart, .txt or .png" err
        verdict "-o $name was written" [ ! -e "$scratch/$name" ]
    done
    ends 2 resize "$barley" --columns 12 -o "$scratch/same.png" --draw "$scratch/same.png"
    says "one name for two" "one each" err
    # The gauges of the project are named where none is given.
    ends 2 resize examples/toadstool-hat/toadstool-hat.ini --band toadstools
    says "no gauge, with tries" "heavier and smaller needle" err
    ends 2 resize examples/toadstool-hat/toadstool-hat.ini --band toadstools --try lighter
    says "another try" "it has heavier and smaller needle" err
    # A slip is said before it is redrawn.
    sed '/^xxx\.\.\.x/ s/^xxx\./xxxx/' "$scratch/barley.chart" >"$scratch/slip.chart"
    sed 's/= barley.chart/= slip.chart/' "$barley" >"$scratch/slip.ini"
    ends 0 resize "$scratch/slip.ini" --columns 12
    verdict "a slip is not said first" [ "$(head -c 24 "$scratch/out")" = "Mend the old chart first" ]
    says "a slip" "Round 20: stitch 5 is straw, stitch 11 is bark" out
    ends 0 resize "$barley" --columns 12
    verdict "a chart without a slip is to be mended" [ "$(grep -c Mend "$scratch/out")" -eq 0 ]
    # As a picture, it is read back as it was.
    ends 0 resize "$barley" --columns 12 -o "$scratch/picture.png"
    ends 0 resize "$barley" --columns 12 -o "$scratch/marks.txt"
    for name in picture.png marks.txt; do
        sed "s/= barley.chart/= $name/" "$barley" >"$scratch/$name.ini"
        "$program" draw "$scratch/$name.ini" >"$scratch/$name.drawn" 2>"$scratch/err"
    done
    verdict "a picture of the new chart is read as another" cmp -s "$scratch/picture.png.drawn" "$scratch/marks.txt.drawn"
    verdict "the picture was not read" grep -q 'Band barley' "$scratch/picture.png.drawn"
    ends 2 resize examples/moth-cushion/moth-cushion.ini --columns 26 -o "$scratch/moth.png"
    says "side stitches in a picture" "no side stitches" err
    ends 2 resize "$barley" --gauge '26 sts, 34 rows' --over '4 in' --band nowhere
    ends 2 resize examples/pinewood-yoke/pinewood-yoke.ini --gauge '26 sts, 34 rows' --over '4 in'
    says "several bands" "--band pines, cones or snow" err
    ends 2 resize tests/projects/edge.ini --gauge '1 sts, 1 rows' --over '1 in'
    says "a resize to nothing" "nothing of it is left" err
    ends 0 resize "$barley" --gauge '26 sts, 34 rows' --over '4 in' -o "$scratch/new.chart"
    says "a redrawn chart" "mirrored left to right" out
    cp "$scratch/new.chart" "$scratch/kept.chart"
    ends 3 resize "$barley" --gauge '20 sts, 30 rows' --over '4 in' -o "$scratch/new.chart"
    says "a chart that is there" "there already" err
    says "a chart that is there" "add --replace" err
    verdict "a chart was written over unasked" cmp -s "$scratch/new.chart" "$scratch/kept.chart"
    ends 0 resize "$barley" --gauge '20 sts, 30 rows' --over '4 in' -o "$scratch/new.chart" --replace
    sed -i 's/= barley.chart/= new.chart/' "$barley"
    ends 0 plan "$barley"
}

# Alike in grey, and nothing to mend: other colours part them.
parted() {
    ends 0 check tests/projects/parted.ini
    says "shades apart in the chart" "in grey they would read as" out
    says "shades apart in the chart" "mostly other colours part them" out
    says "shades apart in the chart" "Nothing to mend" out
}

# 6 % of the piece and all of a head: the per cent are doubted, not what must pass.
small_share() {
    ends 0 check tests/projects/share-small.ini
    says "a share of 6 %" "under a quarter of the piece" err
    verdict "what must pass is doubted" sh -c "! grep -q 'more than twice' '$scratch/err'"
}

starter
help
usage
names
files
ladder
keeps_old_output
no_text
streams
inputs_stay
cautions_beside
same_again
calculators
tables
redrawn
parted
small_share
finish cli
