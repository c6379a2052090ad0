/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * One row in words.
 */
#include "directions.h"

enum {
    GROUP_MAX = 12,   /* runs in one pair of brackets */
    GROUP_SAVES = 3   /* runs that brackets must save */
};

static int count_strand(const struct row_run *run, int strand)
{
    int count = 0;

    for (int i = 0; i < run->ncatches; i++)
        count += run->catches[i].strand == strand;
    return count;
}

/* "slate behind the 5th and 9th", for one strand of a run. */
static void add_catches_of(const struct page *page, struct text *text, const struct row_run *run,
                           int strand)
{
    int count = count_strand(run, strand), done = 0;

    text_add(text, words_yarn(page, strand));
    if (run->stitches == 1) {
        text_add(text, " behind" WORDS_TIE "it");
        return;
    }
    text_add(text, " behind" WORDS_TIE "the" WORDS_TIE);
    for (int i = 0; i < run->ncatches; i++) {
        if (run->catches[i].strand != strand)
            continue;
        text_add(text, say_link(done++, count));
        words_add_ordinal(text, run->catches[i].behind);
    }
}

static void add_run(const struct page *page, struct text *text, const struct row_run *run)
{
    uint64_t said = 0;

    text_digits(text, run->stitches);
    text_add(text, WORDS_TIE);
    text_add(text, words_yarn(page, run->yarn));
    for (int i = 0; i < run->ncatches; i++) {
        int strand = run->catches[i].strand;

        if (said >> strand & 1)
            continue;
        text_add(text, said ? " and " : " catching ");
        said |= UINT64_C(1) << strand;
        add_catches_of(page, text, run, strand);
    }
}

static bool same_run(const struct row_run *a, const struct row_run *b)
{
    if (a->yarn != b->yarn || a->stitches != b->stitches || a->ncatches != b->ncatches)
        return false;
    for (int i = 0; i < a->ncatches; i++)
        if (a->catches[i].strand != b->catches[i].strand || a->catches[i].behind != b->catches[i].behind)
            return false;
    return true;
}

/* How often the first `length` runs come one after the other. */
static int times_running(const struct row_run *runs, int nruns, int length)
{
    int same = length;

    while (same < nruns && same_run(&runs[same], &runs[same - length]))
        same++;
    return same / length;
}

/* The group at the head of the runs that saves most words; *times 1: none is worth brackets. */
static int find_group(const struct row_run *runs, int nruns, int *times)
{
    int best = 1, best_saved = GROUP_SAVES - 1;

    *times = 1;
    for (int length = 2; length <= GROUP_MAX && 2 * length <= nruns; length++) {
        int now = times_running(runs, nruns, length);

        if ((now - 1) * length <= best_saved)
            continue;
        best = length;
        best_saved = (now - 1) * length;
        *times = now;
    }
    return best;
}

static void add_runs(const struct page *page, struct text *text, const struct row_run *runs,
                     int nruns)
{
    for (int i = 0, times; i < nruns;) {
        int length = find_group(runs + i, nruns - i, &times);

        text_add(text, i > 0 ? ", " : "");
        text_add(text, times > 1 ? "(" : "");
        for (int k = 0; k < length; k++) {
            text_add(text, k > 0 ? ", " : "");
            add_run(page, text, &runs[i + k]);
        }
        if (times > 1) {
            text_add(text, ") ");
            text_add(text, words_times(page, times));
        }
        i += length * times;
    }
}

/* " (84)." or " (84; 7 slate at each join)." */
static void add_count(const struct page *page, struct text *text, const struct plan_row *row)
{
    text_add(text, " (");
    text_digits(text, row->stitches);
    if (row->join_stitches > 0) {
        text_add(text, ";" WORDS_TIE);
        text_digits(text, row->join_stitches);
        text_add(text, WORDS_TIE);
        text_add(text, words_yarn(page, row->join_yarn));
        text_add(text, WORDS_TIE "at" WORDS_TIE "each" WORDS_TIE "join");
    }
    text_add(text, ").");
}

/* "knit all cream (84)." */
static void add_one_yarn(const struct page *page, struct text *text, const struct plan_row *row)
{
    if (!page->plan->round)
        text_add(text, row->right_side ? " (right side)" : " (wrong side)");
    text_add(text, row->right_side ? ": knit all " : ": purl all ");
    text_add(text, words_yarn(page, row->yarns[0]));
    add_count(page, text, row);
}

/* " No room to stagger here: catch cream and slate loosely." */
static void add_tight(const struct page *page, struct text *text, const struct plan_row *row)
{
    int strands[GRID_YARNS_MAX], n = 0;

    for (int yarn = 0; yarn < GRID_YARNS_MAX; yarn++)
        if (row->tight >> yarn & 1)
            strands[n++] = yarn;
    text_add(text, " No room to stagger here: catch ");
    text_add(text, words_yarns(page, strands, n));
    text_add(text, " loosely.");
}

static void add_several(const struct page *page, struct text *text, const struct plan_row *row)
{
    const char *side = page->plan->round ? "" : row->right_side ? "right side, knit; " : "wrong side, purl; ";

    text_add(text, " (");
    text_add(text, side);
    for (int i = 0; i < row->nyarns; i++) {
        text_add(text, i > 0 ? ", " : "");
        text_add(text, words_yarn(page, row->yarns[i]));
    }
    text_add(text, "): ");
    add_runs(page, text, row->before, row->nbefore);
    text_add(text, row->nbefore > 0 ? ", " : "");
    text_add(text, row->times > 1 ? "*" : "");
    add_runs(page, text, row->unit, row->nunit);
    if (row->times > 1) {
        text_add(text, "; from" WORDS_TIE "*" WORDS_TIE);
        text_add(text, words_times(page, row->times));
        text_add(text, WORDS_TIE "in" WORDS_TIE "all");
    }
    text_add(text, row->nafter > 0 ? "; then " : "");
    add_runs(page, text, row->after, row->nafter);
    add_count(page, text, row);
    if (row->tight)
        add_tight(page, text, row);
}

/* All but "Round 8": two rows whose words agree are given once. */
void directions_word_row(const struct page *page, const struct plan_row *row, struct text *text)
{
    text->length = 0;
    text->bytes[0] = '\0';
    if (row->nyarns == 0)
        text_add(text, ": no stitches.");
    else if (row->nyarns == 1)
        add_one_yarn(page, text, row);
    else
        add_several(page, text, row);
}
