/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The redrawn chart in words and marks: sizes, what is kept and what is not, old beside new.
 */
#include "resize_report.h"

#include <string.h>

#include "base/arena.h"
#include "render/words.h"

/* --- sizes --------------------------------------------------------------------------------- */

static void say_direction(const struct page *page, const char *name, int old_count, int count,
                          struct rational exact, struct rational old_per_in, struct rational per_in)
{
    double old_in = old_count / rational_double(old_per_in), in = count / rational_double(per_in);

    page_entry(page, name,
               words_format(page, "%d, %s; now %d (exactly %s), %s, %s", old_count, words_length(page, old_in),
                            count, words_decimal(page, rational_double(exact), 2), words_length(page, in),
                            words_signed_percent(page, in / old_in - 1.0)));
}

static const char *way_words(const struct page *page, const struct resize_way *way)
{
    return words_format(page, "%lld repeat%s of %d, %lld stitches, %s, %s", (long long)way->repeats,
                        way->repeats == 1 ? "" : "s", way->ncols, (long long)way->stitches,
                        words_length(page, way->finished_in), words_signed_percent(page, way->off_part));
}

static void say_ways(const struct resize_job *job, const struct page *page)
{
    page_entry(page, "in the piece", way_words(page, &job->ways[0]));
    for (int i = 1; i < job->nways; i++)
        page_entry(page, i == 1 ? "or" : "",
                   words_format(page, "%s (the motif %s wide): --columns %d", way_words(page, &job->ways[i]),
                                words_signed_percent(page, job->ways[i].wide_part), job->ways[i].ncols));
}

/* --- symmetries ------------------------------------------------------------------------------ */

/* "stitch 8", "the line between stitches 7 and 8"; place: twice the number from 0. */
static const char *axis_words(const struct page *page, const char *one, const char *many, int twice,
                              int count)
{
    int at = (twice % (2 * count) + 2 * count) % (2 * count);

    if (at % 2 == 0)
        return words_format(page, "%s %d", one, at / 2 + 1);
    if (at == 2 * count - 1)
        return "the join";
    return words_format(page, "the line between %s %d and %d", many, at / 2 + 1, at / 2 + 2);
}

static const char *across_words(const struct page *page, const struct symmetry *move,
                                const struct grid *grid)
{
    const char *first = axis_words(page, "stitch", "stitches", move->column, grid->ncols);
    const char *second = axis_words(page, "stitch", "stitches", move->column + grid->ncols, grid->ncols);

    if (move->row > 0)
        return words_format(page, "mirrored left to right and moved up %s", words_rounds(page, move->row));
    return words_format(page, "mirrored left to right, about %s and about %s", first, second);
}

static const char *move_words(const struct page *page, const struct symmetry *move,
                              const struct grid *grid)
{
    const char *round = words_round(page), *rounds = words_rounds(page, 2) + 2;

    switch (move->kind) {
    case SYMMETRY_ALONG:
        return words_format(page, "the same again every %d stitches", move->column);
    case SYMMETRY_DROP:
        if (move->column == 0)
            return words_format(page, "the same again every %s", words_rounds(page, move->row));
        return words_format(page, "%sthe same again %d stitches along and %s up",
                            2 * move->column == grid->ncols && 2 * move->row == grid->nrows ? "half-drop: "
                                                                                            : "",
                            move->column, words_rounds(page, move->row));
    case SYMMETRY_ACROSS:
        return across_words(page, move, grid);
    case SYMMETRY_UPSIDE:
        if (move->column > 0)
            return words_format(page, "mirrored top to bottom and moved along %d stitches", move->column);
        return words_format(page, "mirrored top to bottom, about %s",
                            axis_words(page, round, rounds, move->row, grid->nrows));
    case SYMMETRY_TURN:
        return "the same when turned half round";
    case SYMMETRY_KINDS:
        break;
    }
    return "";
}

static void say_symmetries(const struct resize_job *job, const struct page *page)
{
    const struct resize_answer *answer = job->answer;
    const struct motif *motif = &answer->motif;

    if (motif->nmoves == 0)
        page_entry(page, "symmetry", "the chart has none");
    for (int i = 0; i < motif->nmoves; i++)
        page_entry(page, answer->keeps[i] ? "kept" : "not kept",
                   move_words(page, &motif->move[i], &job->band->drawn));
    for (int i = 0; i < motif->nmoves; i++)
        if (!answer->keeps[i]) {
            page_say(page, 2, words_format(page, "%d stitches by %s cannot have that: choose other numbers "
                                                 "with --columns and --rows.",
                                           answer->chart.ncols, words_rounds(page, answer->chart.nrows)));
            break;
        }
    if (!answer->columns.keeps_middle)
        page_say(page, 2, "A centre line that lay on a stitch now lies between two, or the other way "
                          "about: an odd number of stitches stays odd and an even one even, to keep it.");
}

/* --- what could not be kept ------------------------------------------------------------------ */

/* "stitches 3 to 7", through the join of the repeat where it goes on */
static const char *stretch_words(const struct page *page, const char *many, const struct resize_crowd *crowd,
                                 int count)
{
    if (crowd->length == count)
        return words_format(page, "all %d %s", count, many);
    return words_format(page, "%s %d to %d%s", many, crowd->from + 1,
                        (crowd->from + crowd->length - 1) % count + 1,
                        crowd->from + crowd->length > count ? " (over the join)" : "");
}

/* Rows, or columns, where something broke and a stretch has more runs of colour than stitches to draw
 * them with: those of the same stretch together. */
static void say_crowded_in(const struct resize_job *job, const struct page *page, bool along)
{
    const struct grid *old = &job->band->drawn;
    const struct resize_answer *answer = job->answer;
    int n = along ? old->nrows : old->ncols, length = along ? old->ncols : old->nrows;
    bool ring = along || job->question.rows_are_ring;
    struct resize_crowd *crowd = arena_alloc(page->work->arena, (size_t)n, sizeof *crowd);
    int *same = arena_alloc(page->work->arena, (size_t)n, sizeof *same);
    const char *rounds = words_rounds(page, 2) + 2;

    for (int i = 0; i < n; i++)
        if (along ? answer->broken_row[i] : answer->broken_column[i])
            crowd[i] = resize_crowd_find(old, along ? &answer->columns : &answer->rows, along, ring, i);
    for (int i = 0; i < n; i++) {
        struct resize_crowd first = crowd[i];
        int count = 0;

        for (int j = i; j < n; j++)
            if (first.runs > first.room && crowd[j].from == first.from && crowd[j].length == first.length &&
                crowd[j].runs == first.runs) {
                same[count++] = j + 1;
                crowd[j].runs = 0;
            }
        if (count > 0)
            page_item(page, 2, "-",
                      words_format(page, "%s %s, %s: %d runs of colour need %d %s, and only %d of the new ones "
                                         "lie there: it cannot stay as it is in its place.",
                                   along ? count == 1 ? words_format(page, "Chart %s", words_round(page))
                                                      : words_format(page, "Chart %s", rounds)
                                   : count == 1 ? "Stitch" : "Stitches",
                                   words_numbers(page, same, count),
                                   stretch_words(page, along ? "stitches" : rounds, &first, length), first.runs,
                                   first.runs, along ? "stitches" : rounds, first.room));
    }
}

static void say_crowded(const struct resize_job *job, const struct page *page)
{
    say_crowded_in(job, page, true);
    say_crowded_in(job, page, false);
}

static void say_fault(const struct page *page, int count, const char *one, const char *many)
{
    if (count > 0)
        page_item(page, 2, "-", words_count(page, count, one, many));
}

static void say_rows_hurt(const struct resize_job *job, const struct page *page)
{
    int *rows = arena_alloc(page->work->arena, (size_t)job->band->drawn.nrows, sizeof *rows), n = 0;

    for (int r = 0; r < job->band->drawn.nrows; r++)
        if (job->answer->broken_row[r])
            rows[n++] = r + 1;
    if (n > 0)
        page_say(page, 2, words_format(page, "Look at %s %s of the old chart.",
                                       n == 1 ? words_round(page) : words_rounds(page, 2) + 2,
                                       words_numbers(page, rows, n)));
}

static void say_faults(const struct resize_job *job, const struct page *page)
{
    const struct resize_faults *faults = &job->answer->faults;

    if (resize_faults_of_drawing(faults) + faults->floats == 0) {
        page_say(page, 0, "Every line is whole, nothing joins that was apart, and no float is over the limit "
                          "where none was.");
        return;
    }
    page_say(page, 0, "Could not be kept:");
    if (resize_faults_of_drawing(faults) > 0)
        say_crowded(job, page);
    say_fault(page, faults->lines, "place where a one-stitch line breaks.",
              "places where a one-stitch line breaks.");
    say_fault(page, faults->joined, "part that has run into another of its colour.",
              "parts that have run into others of their colour.");
    say_fault(page, faults->lost, "part of which nothing is left.", "parts of which nothing is left.");
    say_fault(page, faults->split, "part that has come asunder.", "pieces that have come off a part.");
    say_fault(page, faults->floats, "float over the limit where there was none.",
              "floats over the limit where there were none.");
    if (resize_faults_of_drawing(faults) > 0)
        say_rows_hurt(job, page);
    page_say(page, 2, "This is the best that the search has found; better is not ruled out. More stitches or rows (--columns, --rows) "
                      "may keep them; or change a stitch by hand.");
}

/* --- charts ---------------------------------------------------------------------------------- */

static bool is_changed(const struct resize_answer *answer, int row, int column)
{
    int at = row * answer->chart.ncols + column;

    return answer->chart.cell[at] != answer->true_colour[at];
}

/* One row, leftmost stitch first, two places a stitch. answer NULL: the old chart. */
static void add_row(const struct resize_job *job, const struct grid *grid, int row,
                    const struct resize_answer *answer, struct text *out)
{
    for (int c = grid->ncols - 1; c >= 0; c--) {
        text_add(out, job->mark[grid->cell[row * grid->ncols + c]]);
        text_add(out, answer && is_changed(answer, row, c) ? "*" : " ");
    }
    text_addf(out, "%3d", row + 1);
}

/* Beside each other where they go on the page, standing on one line; else one over the other. */
static void add_charts(const struct resize_job *job, int width, struct text *out)
{
    const struct resize_answer *answer = job->answer;
    const struct grid *old = &job->band->drawn, *chart = &answer->chart;
    bool beside = 2 * old->ncols + 2 * chart->ncols + 10 <= width;
    int tallest = old->nrows > chart->nrows ? old->nrows : chart->nrows;

    text_add(out, "\nOld:");
    if (beside) {
        text_repeat(out, ' ', 2 * old->ncols + 3);
        text_add(out, "New:");
    }
    text_add(out, "\n");
    for (int r = (beside ? tallest : old->nrows) - 1; r >= 0; r--) {
        if (r < old->nrows)
            add_row(job, old, r, NULL, out);
        else
            text_repeat(out, ' ', 2 * old->ncols + 3);
        if (beside && r < chart->nrows) {
            text_add(out, "    ");
            add_row(job, chart, r, answer, out);
        }
        text_add(out, "\n");
    }
    for (int r = chart->nrows - 1; !beside && r >= 0; r--) {
        text_add(out, r == chart->nrows - 1 ? "\nNew:\n" : "");
        add_row(job, chart, r, answer, out);
        text_add(out, "\n");
    }
}

static void say_area(const struct resize_job *job, const struct page *page)
{
    const struct resize_answer *answer = job->answer;
    double whole = (double)answer->square * answer->chart.ncols * answer->chart.nrows;
    int changed = 0;

    for (int r = 0; r < answer->chart.nrows; r++)
        for (int c = 0; c < answer->chart.ncols; c++)
            changed += is_changed(answer, r, c);
    page_say(page, 0,
             words_format(page, "It differs from the old chart drawn to true size in %s of the area; whole "
                                "stitches cannot come nearer than %s. %s",
                          words_percent(page, (double)answer->area / whole),
                          words_percent(page, (double)answer->bound / whole),
                          changed == 0 ? "No stitch had to be changed for lines, parts or floats."
                                       : words_format(page, "%s marked *: another colour than covers most of "
                                                            "it, to keep lines, parts or floats.",
                                                      words_count(page, changed, "stitch is", "stitches are"))));
}

static void say_marks(const struct resize_job *job, const struct page *page)
{
    for (int y = 0; y < job->plan->piece.nyarns; y++)
        if (job->mark_chosen[y])
            page_say(page, 0, words_format(page, "%s has no mark in the project: the new chart has %s for it. "
                                                 "Add mark = %s under [yarn %s].",
                                           words_yarn(page, y), job->mark[y], job->mark[y],
                                           words_yarn(page, y)));
}

void resize_report(const struct resize_job *job, int width, struct text *out)
{
    struct render_style style = {.width = width > 100 ? 100 : width < 60 ? 60 : width};
    struct page page = {job->work, job->plan, &style, out};
    const struct grid *old = &job->band->drawn, *chart = &job->answer->chart;

    page_say(&page, 0, words_format(&page, "%s redrawn: %s, %s rows to the inch (%s to 10" WORDS_TIE "cm).",
                                    job->band->name, words_gauge(&page, rational_double(job->per_in)),
                                    words_decimal(&page, rational_double(job->rows_per_in), 2),
                                    words_decimal(&page, rational_double(job->rows_per_in) * 10.0 / 2.54, 2)));
    page_gap(&page);
    say_direction(&page, "stitches", old->ncols, chart->ncols, job->exact_cols, job->old_per_in, job->per_in);
    say_direction(&page, job->plan->round ? "rounds" : "rows", old->nrows, chart->nrows, job->exact_rows,
                  job->old_rows_per_in, job->rows_per_in);
    say_ways(job, &page);
    say_symmetries(job, &page);
    page_gap(&page);
    say_area(job, &page);
    say_faults(job, &page);
    say_marks(job, &page);
    add_charts(job, width, out);
}

/* --- the file ---------------------------------------------------------------------------------- */

static void add_stitches(const struct resize_job *job, const struct grid *grid, int row, struct text *out)
{
    for (int c = grid->ncols - 1; c >= 0; c--)
        text_add(out, job->mark[grid->cell[row * grid->ncols + c]]);
}

void resize_write_chart(const struct resize_job *job, struct text *out)
{
    const struct grid *chart = &job->answer->chart;
    bool barred = job->left.ncols + job->right.ncols > 0;

    text_addf(out, "; %s, redrawn from %s: %d stitches by %d rows.\n", job->band->name, job->band->chart_name,
              chart->ncols, chart->nrows);
    for (int y = 0; y < job->plan->piece.nyarns; y++)
        if (job->mark_chosen[y])
            text_addf(out, "; mark = %s under [yarn %s].\n", job->mark[y], job->plan->piece.yarns[y].name);
    for (int r = chart->nrows - 1; r >= 0; r--) {
        if (barred) {
            add_stitches(job, &job->left, r, out);
            text_add(out, " | ");
        }
        add_stitches(job, chart, r, out);
        if (barred) {
            text_add(out, " | ");
            add_stitches(job, &job->right, r, out);
        }
        text_add(out, "\n");
    }
}
