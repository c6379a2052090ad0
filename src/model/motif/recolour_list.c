/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Which stitches could be changed. In a ring whose symmetries all hold, what a change saves is known where it is
 * listed, and so is that no more than a few of a row can be chosen: a large chart has as many
 * candidates as stitches, and only those few are kept.
 *
 * Why the best of each row decide: candidates under one float, and under its partners, take each other's place,
 * so that at most the best under a float is chosen; a row gives five at most; and of two in different
 * rows the best of a row stands for all of it.
 */
#include <stdlib.h>

#include "base/arena.h"
#include "recolour_parts.h"

/* Stitches between i and the next of its yarn to that side of the ring. */
static int between(const struct recolour_search *search, int i, int step)
{
    int n = search->nstitches, count = 0;

    for (int k = (i + step + n) % n; search->yarn_of[k] != search->yarn_of[i]; k = (k + step + n) % n)
        count++;
    return count;
}

/* In a ring without empty squares: the float is cut in two, and two of the yarn it was in become one.
 * All other floats stay. A yarn's only stitch is left to be counted: it may not go. */
static void reckon_alone(const struct recolour_search *search, const struct float_run *run, int place,
                         struct candidate *candidate)
{
    int leave = search->band->leave_sts, n = search->nstitches, i = (run->from + place + n) % n;
    int right, left, longer;

    candidate->reach = search->width;
    if (search->band->ends != FLOATS_RING || n != search->band->knitted->ncols || !search->exact)
        return;
    right = between(search, i, -1);
    left = between(search, i, 1);
    longer = right + left + 1;
    if (right == n - 1)
        return;
    candidate->most = 1; /* its float takes one or more */
    candidate->alone = floats_fewest_catches(run->span_sts, leave) - floats_fewest_catches(place - 1, leave) -
                       floats_fewest_catches(run->span_sts - place, leave) +
                       floats_fewest_catches(right, leave) + floats_fewest_catches(left, leave) -
                       floats_fewest_catches(longer, leave);
    candidate->behind_sts = longer;
    candidate->reach = run->span_sts > longer ? run->span_sts : longer;
}

/* Partners that do not meet save each the same. */
static void weigh_known(struct recolour_search *search, const struct recolour *change,
                        struct candidate *candidate)
{
    if (candidate->reach >= search->width || recolour_meet(search, change, candidate->reach, change)) {
        search->nunknown++;
        return;
    }
    candidate->is_known = true;
    candidate->saved = candidate->ncells * candidate->alone;
    candidate->most *= candidate->ncells;
}

/* One float of a row as worked over one column of the repeat. */
static void add_candidate(struct recolour_search *search, int row, int column,
                          const struct float_run *run, int place)
{
    struct candidate *candidate;
    struct recolour change;
    int off = 2 * place - (run->span_sts + 1);

    if (!recolour_with_partners(search->band, row, column, run->yarn, &change))
        return;
    if ((size_t)search->ncandidates == search->room) {
        size_t room = 2 * search->room + 64;

        search->candidates = arena_grow(search->scratch, search->candidates, search->room, room,
                                        sizeof *search->candidates);
        search->room = room;
    }
    candidate = &search->candidates[search->ncandidates++];
    *candidate = (struct candidate){.row = change.cell[0].row, /* stands for all its partners */
                                    .column = change.cell[0].column,
                                    .yarn = run->yarn,
                                    .ncells = change.ncells,
                                    .from = run->from,
                                    .of_float = floats_fewest_catches(run->span_sts, search->band->leave_sts),
                                    .off_middle = off < 0 ? -off : off};
    reckon_alone(search, run, place, candidate);
    weigh_known(search, &change, candidate);
    if (candidate->is_known) {
        recolour_note_most(search, &change, candidate->most);
        if (candidate->row == row && candidate->column == column)
            search->steps += candidate->ncells;
    }
}

static int compare_places(const void *a, const void *b)
{
    const struct candidate *x = a, *y = b;

    if (x->row != y->row)
        return x->row - y->row;
    if (x->column != y->column)
        return x->column - y->column;
    return x->yarn != y->yarn ? x->yarn - y->yarn : x->off_middle - y->off_middle;
}

/* Partners were listed each: kept once, as near the middle as any. */
static void keep_once(struct recolour_search *search)
{
    int kept = 0;

    if (search->ncandidates == 0)
        return;
    qsort(search->candidates, (size_t)search->ncandidates, sizeof *search->candidates,
          compare_places);
    for (int i = 0; i < search->ncandidates; i++) {
        const struct candidate *last = kept > 0 ? &search->candidates[kept - 1] : NULL;
        const struct candidate *next = &search->candidates[i];

        if (last && last->row == next->row && last->column == next->column &&
            last->yarn == next->yarn)
            continue;
        search->candidates[kept++] = *next;
    }
    search->ncandidates = kept;
}

static bool is_same(const struct candidate *a, const struct candidate *b)
{
    return a->row == b->row && a->column == b->column && a->yarn == b->yarn;
}

/* Of the known ones from `first` on the best, none twice; all others stay. */
static void keep_best(struct recolour_search *search, int first, int most)
{
    struct candidate best[RECOLOUR_ONES_MAX];
    int nbest = 0, kept = first;

    for (int i = first; i < search->ncandidates; i++) {
        struct candidate next = search->candidates[i];
        int at = nbest;

        if (!next.is_known) {
            search->candidates[kept++] = next;
            continue;
        }
        while (at > 0 && recolour_compare(&next, &best[at - 1]) < 0)
            at--;
        if (at == most || (at > 0 && is_same(&next, &best[at - 1])))
            continue;
        nbest += nbest < most;
        for (int k = nbest - 1; k > at; k--)
            best[k] = best[k - 1];
        best[at] = next;
    }
    for (int k = 0; k < nbest; k++)
        search->candidates[kept++] = best[k];
    search->ncandidates = kept;
}

/* The floats of a row over the limit, each of its stitches in the repeat; once for each yarn. Known ones: the best
 * under each float, and of those the best. */
static void list_row(struct recolour_search *search, int row, bool all)
{
    const struct recolour_band *band = search->band;
    int n, nruns, ncols = band->knitted->ncols, first = search->ncandidates;
    const struct float_run *runs = search->runs;

    search->row_catches[row] = recolour_count_row(search, row, NULL);
    search->stamp++;
    n = search->nstitches;
    nruns = search->nruns;
    for (int i = 0; i < nruns; i++) {
        int under = search->ncandidates;

        for (int p = 1; runs[i].span_sts > band->leave_sts && p <= runs[i].span_sts; p++) {
            int column = search->column_of[(runs[i].from + p) % n];
            int *seen = column < 0 ? NULL : &search->seen_in[runs[i].yarn * ncols + column];

            if (!seen || *seen == search->stamp)
                continue;
            *seen = search->stamp;
            add_candidate(search, row, column, &runs[i], p);
        }
        if (!all)
            keep_best(search, under, 1);
    }
    if (!all)
        keep_best(search, first, RECOLOUR_ONES_MAX);
}

/* Each that is not known costs a row read at least, or three; each is listed once for each of its partners. */
static bool are_too_many(const struct recolour_search *search)
{
    int64_t each = (search->band->ends == FLOATS_RING ? 1 : 3) * (int64_t)search->width;

    return search->nunknown / RECOLOUR_CELLS_MAX * each > search->steps_max;
}

void recolour_list(struct recolour_search *search)
{
    const struct grid *grid = search->band->knitted;

    search->seen_in = arena_alloc(search->scratch, GRID_YARNS_MAX * (size_t)grid->ncols, sizeof *search->seen_in);
    for (int row = 0; row < grid->nrows; row++) {
        list_row(search, row, false);
        if (are_too_many(search)) {
            search->steps = search->steps_max;
            return;
        }
    }
    keep_once(search);
}

static bool could_be_better(const struct recolour_search *search, const struct candidate *candidate,
                            int64_t saved)
{
    struct recolour change;

    recolour_change_of(search, candidate, &change);
    for (int i = 0; i < change.ncells; i++)
        if (candidate->most + search->row_most[change.cell[i].row] > saved)
            return true;
    return false;
}

void recolour_list_more(struct recolour_search *search, int64_t saved)
{
    int64_t steps = search->steps; /* these rows were counted */

    for (int row = 0; row < search->band->knitted->nrows; row++) {
        int kept = search->ncandidates, first = kept;

        if (2 * search->row_most[row] <= saved)
            continue;
        list_row(search, row, true);
        for (int i = first; i < search->ncandidates; i++)
            if (search->candidates[i].is_known && could_be_better(search, &search->candidates[i], saved))
                search->candidates[kept++] = search->candidates[i];
        search->ncandidates = kept;
    }
    search->steps = steps;
    keep_once(search);
    if (search->ncandidates > 0)
        qsort(search->candidates, (size_t)search->ncandidates, sizeof *search->candidates, recolour_compare);
}
