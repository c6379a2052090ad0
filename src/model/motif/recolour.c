/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The changes of one stitch and its partners, each reckoned by counting its rows again.
 * recolour_pairs.c puts two together.
 */
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "base/work.h"
#include "recolour_parts.h"

/* Stitches read while searching; under a second on a small machine. */
static const int64_t STEPS_MAX = 60000000;

/* --- rows as worked ---------------------------------------------------------------------- */

/* In every copy of the repeat. */
static void put_change(struct recolour_search *search, int n, int row, const struct recolour *change)
{
    for (int i = 0; i < change->ncells; i++) {
        int column = change->cell[i].column;

        if (change->cell[i].row != row)
            continue;
        if (n == search->band->knitted->ncols && search->column_of[column] == column)
            search->yarn_of[column] = change->yarn[i];
        else
            for (int k = 0; k < n; k++)
                if (search->column_of[k] == column)
                    search->yarn_of[k] = change->yarn[i];
    }
}

/* column_of: of the repeat, or -1 for side stitches. */
static int read_row(struct recolour_search *search, int row, const struct recolour *change)
{
    const struct recolour_band *band = search->band;
    const struct grid *grids[3] = {band->right, band->knitted, band->left};
    int n = 0;

    for (int g = 0; g < 3; g++)
        for (int times = grids[g] ? g == 1 ? band->repeats : 1 : 0; times > 0; times--)
            for (int column = 0; column < grids[g]->ncols; column++) {
                uint8_t yarn = grid_at(grids[g], row, column);

                search->column_of[n] = g == 1 ? column : -1;
                search->yarn_of[n] = yarn;
                n += yarn != GRID_NO_STITCH;
            }
    if (change)
        put_change(search, n, row, change);
    search->steps += n + GRID_YARNS_MAX;
    return n;
}

int64_t recolour_count_row(struct recolour_search *search, int row, const struct recolour *change)
{
    int64_t catches = 0;

    search->nstitches = read_row(search, row, change);
    search->nruns = floats_of_row(search->yarn_of, search->nstitches, search->band->ends, search->runs);
    for (int i = 0; i < search->nruns; i++)
        catches += floats_fewest_catches(search->runs[i].span_sts, search->band->leave_sts);
    return catches;
}

static bool all_exact(const struct recolour_band *band)
{
    for (int s = 0; s < band->nsymmetries; s++)
        if (band->symmetries[s].breaks > 0)
            return false;
    return true;
}

static void begin(struct arena *scratch, const struct recolour_band *band,
                  struct recolour_search *search)
{
    size_t width = (size_t)band->knitted->ncols * (size_t)band->repeats +
                   (size_t)(band->left ? band->left->ncols : 0) +
                   (size_t)(band->right ? band->right->ncols : 0);

    *search = (struct recolour_search){.band = band, .width = (int)width, .steps_max = STEPS_MAX};
    search->yarn_of = arena_alloc(scratch, width, 1);
    search->column_of = arena_alloc(scratch, width, sizeof *search->column_of);
    search->runs = arena_alloc(scratch, width + 2 * GRID_YARNS_MAX, sizeof *search->runs);
    search->row_catches =
        arena_alloc(scratch, (size_t)band->knitted->nrows, sizeof *search->row_catches);
    search->row_most = arena_alloc(scratch, (size_t)band->knitted->nrows, sizeof *search->row_most);
    search->scratch = scratch;
    search->exact = all_exact(band);
}

int64_t recolour_row_catches(struct work *work, const struct recolour_band *band, int row,
                             const struct recolour *change)
{
    struct arena *scratch = arena_branch(work->arena);
    struct recolour_search search;
    int64_t catches;

    begin(scratch, band, &search);
    catches = recolour_count_row(&search, row, change);
    arena_destroy(scratch);
    return catches;
}

/* --- a stitch with its partners ------------------------------------------------------------- */

static bool holds_cell(const struct recolour *change, int row, int column)
{
    for (int i = 0; i < change->ncells; i++)
        if (change->cell[i].row == row && change->cell[i].column == column)
            return true;
    return false;
}

static int compare_cells(const void *a, const void *b)
{
    const struct recolour_cell *x = a, *y = b;

    return x->row != y->row ? x->row - y->row : x->column - y->column;
}

/* Only what changes; false where nothing may: one is no stitch, or lies under a stitch sewn on. */
static bool fill_yarns(const struct recolour_band *band, uint8_t yarn, struct recolour *change)
{
    int kept = 0;

    for (int i = 0; i < change->ncells; i++) {
        struct recolour_cell cell = change->cell[i];
        uint8_t was = grid_at(band->knitted, cell.row, cell.column);

        if (was == GRID_NO_STITCH || was != grid_at(band->drawn, cell.row, cell.column))
            return false;
        if (was == yarn)
            continue;
        change->cell[kept] = cell;
        change->yarn[kept] = yarn;
        change->was[kept++] = was;
    }
    change->ncells = kept;
    return kept > 0;
}

/* false: more partners than there is room for, or fill_yarns(). */
bool recolour_with_partners(const struct recolour_band *band, int row, int column, uint8_t yarn,
                            struct recolour *change)
{
    change->cell[0] = (struct recolour_cell){row, column};
    change->ncells = 1;
    for (int i = 0; i < change->ncells; i++)
        for (int s = 0; s < band->nsymmetries; s++) {
            int r, c;

            if (!symmetry_partner(&band->field, &band->symmetries[s], change->cell[i].row,
                                  change->cell[i].column, &r, &c) ||
                holds_cell(change, r, c))
                continue;
            if (change->ncells == RECOLOUR_CELLS_MAX)
                return false;
            change->cell[change->ncells++] = (struct recolour_cell){r, c};
        }
    qsort(change->cell, (size_t)change->ncells, sizeof *change->cell, compare_cells);
    return fill_yarns(band, yarn, change);
}

/* Is a yarn gone from the row just counted? Then its line is lost, and with it what was to be kept. */
static bool loses_yarn(const struct recolour_search *search, const struct recolour *change, int row)
{
    for (int i = 0; i < change->ncells; i++)
        if (change->cell[i].row == row &&
            !memchr(search->yarn_of, change->was[i], (size_t)search->nstitches))
            return true;
    return false;
}

int64_t recolour_saved(struct recolour_search *search, const struct recolour *change)
{
    int64_t saved = 0;

    for (int i = 0; i < change->ncells; i++) {
        int row = change->cell[i].row;

        if (i > 0 && row == change->cell[i - 1].row)
            continue;
        saved += search->row_catches[row] - recolour_count_row(search, row, change);
        if (loses_yarn(search, change, row))
            return RECOLOUR_LOST;
    }
    return saved;
}

/* Of the row just counted: the longest float of a yarn behind a stitch that was in it. */
static int behind_in_row(const struct recolour_search *search, const struct recolour *change, int row)
{
    int longest = 0;

    for (int i = 0; i < search->nruns; i++) {
        const struct float_run *run = &search->runs[i];

        for (int p = 1; run->span_sts > longest && p <= run->span_sts; p++) {
            int column = search->column_of[(run->from + p) % search->nstitches];

            for (int k = 0; k < change->ncells; k++)
                if (change->cell[k].row == row && change->cell[k].column == column &&
                    change->was[k] == run->yarn)
                    longest = run->span_sts;
        }
    }
    return longest;
}

int recolour_behind(struct recolour_search *search, const struct recolour *change)
{
    int longest = 0;

    for (int i = 0; i < change->ncells; i++) {
        int row = change->cell[i].row, behind;

        if (i > 0 && row == change->cell[i - 1].row)
            continue;
        recolour_count_row(search, row, change);
        behind = behind_in_row(search, change, row);
        longest = behind > longest ? behind : longest;
    }
    return longest;
}

/* --- weighed ------------------------------------------------------------------------------------ */

void recolour_note_most(struct recolour_search *search, const struct recolour *change, int64_t most)
{
    for (int i = 0; i < change->ncells; i++) {
        int row = change->cell[i].row;

        search->row_most[row] = most > search->row_most[row] ? most : search->row_most[row];
    }
}

void recolour_change_of(const struct recolour_search *search, const struct candidate *candidate,
                        struct recolour *change)
{
    recolour_with_partners(search->band, candidate->row, candidate->column, candidate->yarn, change);
}

/* What its floats could save at most: all their catches. Nor can a changed stitch save more than one: with
 * L = m + 1 it cuts a float of n = a + b + 1 in a and b, and n div L <= a div L + b div L + 1; and the
 * yarn it was in can only float farther. */
static int64_t most_it_can(struct recolour_search *search, const struct recolour *change)
{
    int64_t most = 0;

    for (int i = 0; i < change->ncells; i++) {
        recolour_count_row(search, change->cell[i].row, NULL);
        for (int k = 0; k < search->nruns; k++) {
            const struct float_run *run = &search->runs[k];
            bool over = false;

            for (int p = 1; run->yarn == change->yarn[i] && !over && p <= run->span_sts; p++)
                over = search->column_of[(run->from + p) % search->nstitches] == change->cell[i].column;
            if (over)
                most += floats_fewest_catches(run->span_sts, search->band->leave_sts);
        }
    }
    return most;
}

int recolour_compare(const void *a, const void *b)
{
    const struct candidate *x = a, *y = b;

    if (x->saved != y->saved)
        return x->saved > y->saved ? -1 : 1;
    if (x->ncells != y->ncells)
        return x->ncells - y->ncells;
    if (x->behind_sts != y->behind_sts)
        return x->behind_sts - y->behind_sts;
    if (x->off_middle != y->off_middle)
        return x->off_middle - y->off_middle;
    if (x->row != y->row)
        return x->row - y->row;
    return x->column != y->column ? x->column - y->column : x->yarn - y->yarn;
}

bool recolour_meet(const struct recolour_search *search, const struct recolour *x, int reach,
                   const struct recolour *y)
{
    int ncols = search->band->knitted->ncols;

    for (int i = 0; i < x->ncells; i++)
        for (int j = x == y ? i + 1 : 0; j < y->ncells; j++) {
            int off = abs(x->cell[i].column - y->cell[j].column);

            if (x->cell[i].row == y->cell[j].row && (off <= reach || ncols - off <= reach))
                return true;
        }
    return false;
}

static void weigh_one(struct recolour_search *search, struct candidate *candidate)
{
    struct recolour change;

    recolour_change_of(search, candidate, &change);
    search->steps += search->width;
    candidate->reach = search->width;
    candidate->saved = recolour_saved(search, &change);
    candidate->most = most_it_can(search, &change);
    if (candidate->most > (int64_t)candidate->ncells * search->band->repeats)
        candidate->most = (int64_t)candidate->ncells * search->band->repeats;
    candidate->behind_sts = recolour_behind(search, &change);
    recolour_note_most(search, &change, candidate->most);
}

static void weigh(struct recolour_search *search)
{
    /* whole rows are counted, three times each and more: known beforehand to be too many */
    if (search->band->ends != FLOATS_RING &&
        (int64_t)search->ncandidates * 3 * search->width > search->steps_max)
        search->steps = search->steps_max;
    for (int i = 0; i < search->ncandidates && search->steps < search->steps_max; i++)
        if (!search->candidates[i].is_known)
            weigh_one(search, &search->candidates[i]);
    if (search->ncandidates > 0)
        qsort(search->candidates, (size_t)search->ncandidates, sizeof *search->candidates, recolour_compare);
}

static void fill(struct recolour_search *search, const struct candidate *candidate,
                 struct recolour *out)
{
    recolour_change_of(search, candidate, out);
    out->saved = candidate->saved;
    out->behind_sts = candidate->behind_sts;
}

/* The best under each float; its partners' floats are those of its partners. */
static void pick_ones(struct recolour_search *search, struct recolour_found *found)
{
    for (int i = 0; i < search->ncandidates && found->nones < RECOLOUR_ONES_MAX; i++) {
        const struct candidate *candidate = &search->candidates[i];
        bool taken = candidate->saved <= 0;

        for (int k = 0; k < found->nones && !taken; k++) {
            const struct candidate *other = &search->candidates[search->one[k]];

            taken = recolour_share_float(search, candidate, other);
        }
        if (taken)
            continue;
        search->one[found->nones] = i;
        fill(search, candidate, &found->one[found->nones++]);
    }
}

void recolour_search(struct work *work, const struct recolour_band *band,
                     struct recolour_found *found)
{
    struct arena *scratch = arena_branch(work->arena);
    struct recolour_search search;

    memset(found, 0, sizeof *found);
    begin(scratch, band, &search);
    recolour_list(&search);
    weigh(&search);
    found->searched = search.steps < search.steps_max;
    if (found->searched) {
        pick_ones(&search, found);
        recolour_find_pair(&search, found);
    }
    arena_destroy(scratch);
}
