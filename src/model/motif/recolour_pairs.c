/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Two changes together. Where they touch no float in common they save what both save; else they are
 * counted, and only where all catches of their floats together are more than the best found so far.
 */
#include <stdlib.h>

#include "base/arena.h"
#include "recolour_parts.h"

/* Is a column of the repeat behind that float in the row just counted? */
static bool passes(const struct recolour_search *search, const struct float_run *run, int column)
{
    for (int p = 1; p <= run->span_sts; p++)
        if (search->column_of[(run->from + p) % search->nstitches] == column)
            return true;
    return false;
}

bool recolour_share_float(struct recolour_search *search, const struct candidate *a,
                          const struct candidate *b)
{
    struct recolour x, y;

    if (a->yarn != b->yarn)
        return false;
    recolour_change_of(search, a, &x);
    recolour_change_of(search, b, &y);
    for (int j = 0; j < y.ncells; j++) {
        int row = y.cell[j].row;

        recolour_count_row(search, row, NULL);
        for (int r = 0; r < search->nruns; r++) {
            if (search->runs[r].yarn != a->yarn || !passes(search, &search->runs[r], y.cell[j].column))
                continue;
            for (int i = 0; i < x.ncells; i++)
                if (x.cell[i].row == row && passes(search, &search->runs[r], x.cell[i].column))
                    return true;
        }
    }
    return false;
}

static bool share_row(const struct recolour *x, const struct recolour *y)
{
    for (int i = 0; i < x->ncells; i++)
        for (int j = 0; j < y->ncells; j++)
            if (x->cell[i].row == y->cell[j].row)
                return true;
    return false;
}

/* Both together, by row, then column. false: they have a stitch in common. */
static bool unite(const struct recolour *x, const struct recolour *y, struct recolour *out)
{
    int i = 0, j = 0;

    out->ncells = 0;
    while (i < x->ncells || j < y->ncells) {
        const struct recolour_cell *a = i < x->ncells ? &x->cell[i] : NULL;
        const struct recolour_cell *b = j < y->ncells ? &y->cell[j] : NULL;
        const struct recolour *of;
        int k;

        if (a && b && a->row == b->row && a->column == b->column)
            return false;
        of = !b || (a && (a->row < b->row || (a->row == b->row && a->column < b->column))) ? x : y;
        k = of == x ? i++ : j++;
        out->cell[out->ncells] = of->cell[k];
        out->yarn[out->ncells] = of->yarn[k];
        out->was[out->ncells++] = of->was[k];
    }
    return true;
}

struct best {
    int64_t saved;
    int a, b; /* candidates; -1: none */
};

/* Candidates stand by what they save: the first two in different rows that cannot be bettered. */
static void best_apart(struct recolour_search *search, struct best *best)
{
    const struct candidate *all = search->candidates;
    struct recolour x, y;

    for (int i = 0; i + 1 < search->ncandidates; i++) {
        if (all[i].saved + all[i + 1].saved <= best->saved)
            return;
        recolour_change_of(search, &all[i], &x);
        for (int j = i + 1; j < search->ncandidates; j++) {
            if (all[i].saved + all[j].saved <= best->saved)
                break;
            search->steps += x.ncells;
            recolour_change_of(search, &all[j], &y);
            if (share_row(&x, &y))
                continue;
            *best = (struct best){all[i].saved + all[j].saved, i, j};
            break;
        }
    }
}

/* --- in one row -------------------------------------------------------------------------- */

struct entry {
    int row, candidate;
    int64_t most;
};

static int compare_entries(const void *a, const void *b)
{
    const struct entry *x = a, *y = b;

    if (x->row != y->row)
        return x->row - y->row;
    if (x->most != y->most)
        return x->most > y->most ? -1 : 1;
    return x->candidate - y->candidate;
}

/* A candidate stands under every row it changes. */
static struct entry *list_entries(struct recolour_search *search, int *count)
{
    size_t room = 0;
    struct entry *entries;
    struct recolour change;

    for (int i = 0; i < search->ncandidates; i++)
        room += (size_t)search->candidates[i].ncells;
    entries = arena_alloc(search->scratch, room, sizeof *entries);
    *count = 0;
    for (int i = 0; i < search->ncandidates; i++) {
        recolour_change_of(search, &search->candidates[i], &change);
        for (int k = 0; k < change.ncells; k++)
            if (k == 0 || change.cell[k].row != change.cell[k - 1].row)
                entries[(*count)++] =
                    (struct entry){change.cell[k].row, i, search->candidates[i].most};
    }
    qsort(entries, (size_t)*count, sizeof *entries, compare_entries);
    return entries;
}

/* Under one float they cannot save more than it takes. */
static int64_t most_of_both(const struct recolour_search *search, int a, int b)
{
    const struct candidate *x = &search->candidates[a], *y = &search->candidates[b];
    bool one_float = x->ncells == 1 && y->ncells == 1 && x->yarn == y->yarn && x->row == y->row &&
                     x->from == y->from && search->band->ends == FLOATS_RING;

    return one_float && x->of_float < x->most + y->most ? x->of_float : x->most + y->most;
}

static void try_pair(struct recolour_search *search, const struct recolour *x, int a, int b,
                     struct best *best)
{
    struct recolour y, both;
    int64_t saved;

    recolour_change_of(search, &search->candidates[b], &y);
    search->steps++;
    if (!recolour_meet(search, x, search->candidates[a].reach, &y))
        saved = search->candidates[a].saved + search->candidates[b].saved;
    else if (unite(x, &y, &both))
        saved = recolour_saved(search, &both);
    else
        return;
    if (saved > best->saved)
        *best = (struct best){saved, a < b ? a : b, a < b ? b : a};
}

/* Returned: all were tried that could be better. */
static bool best_together(struct recolour_search *search, struct best *best)
{
    int count;
    const struct entry *entries = list_entries(search, &count);
    struct recolour x;

    for (int i = 0; i < count; i++) {
        recolour_change_of(search, &search->candidates[entries[i].candidate], &x);
        for (int j = i + 1; j < count && entries[j].row == entries[i].row; j++) {
            if (entries[i].most + entries[j].most <= best->saved)
                break;
            if (search->steps > search->steps_max)
                return false;
            if (most_of_both(search, entries[i].candidate, entries[j].candidate) <= best->saved)
                continue;
            try_pair(search, &x, entries[i].candidate, entries[j].candidate, best);
        }
    }
    return true;
}

static int which_one(const struct recolour_search *search, const struct recolour_found *found,
                     int candidate)
{
    for (int k = 0; k < found->nones; k++)
        if (search->one[k] == candidate)
            return k;
    return -1;
}

/* The first two listed, where no others save more: two to look at instead of four. */
static void prefer_ones(struct recolour_search *search, const struct recolour_found *found,
                        struct best *best)
{
    struct recolour both;
    int64_t saved;

    if (found->nones < 2 || !unite(&found->one[0], &found->one[1], &both))
        return;
    saved = recolour_saved(search, &both);
    if (saved >= best->saved)
        *best = (struct best){saved, search->one[0], search->one[1]};
}

static int index_of(const struct recolour_search *search, const struct candidate *wanted)
{
    int i = 0;

    while (search->candidates[i].row != wanted->row || search->candidates[i].column != wanted->column ||
           search->candidates[i].yarn != wanted->yarn)
        i++;
    return i;
}

/* The others that matter; those already chosen are found again. */
static void list_more(struct recolour_search *search, const struct recolour_found *found, struct best *best)
{
    struct candidate one[RECOLOUR_ONES_MAX], pair[2] = {{0}};

    for (int k = 0; k < found->nones; k++)
        one[k] = search->candidates[search->one[k]];
    if (best->a >= 0) {
        pair[0] = search->candidates[best->a];
        pair[1] = search->candidates[best->b];
    }
    recolour_list_more(search, best->saved);
    for (int k = 0; k < found->nones; k++)
        search->one[k] = index_of(search, &one[k]);
    if (best->a >= 0) {
        best->a = index_of(search, &pair[0]);
        best->b = index_of(search, &pair[1]);
    }
}

void recolour_find_pair(struct recolour_search *search, struct recolour_found *found)
{
    struct best best = {0, -1, -1};
    struct recolour x, y;

    best_apart(search, &best);
    list_more(search, found, &best);
    found->pair_certain = best_together(search, &best);
    prefer_ones(search, found, &best);
    if (best.a < 0 || best.saved <= search->candidates[0].saved)
        return; /* no better than one alone */
    recolour_change_of(search, &search->candidates[best.a], &x);
    recolour_change_of(search, &search->candidates[best.b], &y);
    unite(&x, &y, &found->pair);
    found->has_pair = true;
    found->pair.saved = best.saved;
    found->pair.behind_sts = recolour_behind(search, &found->pair);
    found->pair_of[0] = which_one(search, found, best.a);
    found->pair_of[1] = which_one(search, found, best.b);
    if (found->pair_of[0] < 0 || found->pair_of[1] < 0)
        found->pair_of[0] = found->pair_of[1] = -1;
}
