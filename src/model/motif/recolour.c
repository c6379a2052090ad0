/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Changes are put into the rows as worked and taken out again, stitch by stitch, and each stitch tells what it
 * saves: so one change is reckoned, and two together. A large chart has as many candidates as stitches: only as many
 * are kept as can matter.
 */
#include "recolour.h"

#include <limits.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "base/work.h"
#include "worked_row.h"

/* Looks along a row while searching; about a second on a small machine. */
static const int64_t STEPS_MAX = 60000000;

/* A change that takes a yarn out of a row altogether is none. */
static const int64_t LOST = INT64_MIN / 4;

/* A stitch that may be changed, the first of its partners. */
struct candidate {
    int row, column, ncells;
    uint8_t yarn;
    int behind_sts, reach; /* what is over `reach` columns off is as it was */
    int off_middle;        /* twice how far off the middle of its float */
    int from, of_float;    /* the place before its float, and the catches of that */
    int64_t saved, most;   /* by itself; at most, whatever else is changed */
};

struct search {
    const struct recolour_band *band;
    struct arena *scratch;
    struct worked_row *rows;
    int **place;         /* by row, by column: of the first repeat; -1: no stitch. NULL: all columns are stitches */
    int *first;          /* by row: the place of the first column */
    int width, nyarns;
    struct candidate *candidates;
    int ncandidates, nsaving; /* those that save a catch by themselves come first, sorted */
    int64_t most;             /* that any of them could save */
    size_t room;
    bool all;      /* none is left out: two together could be better than the best */
    bool left_out; /* those that save nothing, and all but the best of the others */
    int one[RECOLOUR_ONES_MAX]; /* candidates picked */
    int64_t steps;
};

static int first_unlike(const int64_t *order, int count)
{
    int i = 0;

    while (i < count - 1 && order[i] == 0)
        i++;
    return (order[i] > 0) - (order[i] < 0);
}

/* --- rows as worked ---------------------------------------------------------------------- */

/* Of the first repeat; -1: no stitch. */
static int place_of(const struct search *search, int row, int column)
{
    return search->place[row] ? search->place[row][column] : search->first[row] + column;
}

static void read_row(struct search *search, int number)
{
    const struct recolour_band *band = search->band;
    const struct grid *grids[3] = {band->right, band->knitted, band->left};
    struct worked_row *row = &search->rows[number];
    size_t ncols = (size_t)band->knitted->ncols;
    int *place = NULL;

    if (memchr(band->knitted->cell + (size_t)number * ncols, GRID_NO_STITCH, ncols))
        place = search->place[number] = arena_alloc(search->scratch, ncols, sizeof *place);
    for (int g = 0; g < 3; g++)
        for (int times = 0; grids[g] && times < (g == 1 ? band->repeats : 1); times++) {
            if (g == 1 && times == 0)
                search->first[number] = row->n;
            for (int column = 0; column < grids[g]->ncols; column++) {
                uint8_t yarn = grid_at(grids[g], number, column);
                bool stitch = yarn != GRID_NO_STITCH;

                if (place && g == 1 && times == 0)
                    place[column] = stitch ? row->n : -1;
                if (!stitch)
                    continue;
                row->yarn_of[row->n++] = yarn;
                row->yarns |= (uint64_t)1 << yarn;
                search->nyarns = yarn >= search->nyarns ? yarn + 1 : search->nyarns;
            }
            if (g == 1 && times == 0)
                row->each = row->n - search->first[number];
        }
    for (int i = 0; i < row->n; i++)
        row->backwards[i] = row->yarn_of[row->n - 1 - i];
}

static void begin(struct arena *scratch, const struct recolour_band *band, struct search *search)
{
    size_t nrows = (size_t)band->knitted->nrows, width;

    *search = (struct search){.band = band, .scratch = scratch};
    search->width = band->knitted->ncols * band->repeats + (band->left ? band->left->ncols : 0) +
                    (band->right ? band->right->ncols : 0);
    width = (size_t)search->width;
    search->rows = arena_alloc(scratch, nrows, sizeof *search->rows);
    search->place = arena_alloc(scratch, nrows, sizeof *search->place);
    search->first = arena_alloc(scratch, nrows, sizeof *search->first);
    for (size_t row = 0; row < nrows; row++) {
        search->rows[row].ends = band->ends;
        search->rows[row].leave_sts = band->leave_sts;
        search->rows[row].yarn_of = arena_alloc(scratch, 2 * width, 1);
        search->rows[row].backwards = search->rows[row].yarn_of + width;
        read_row(search, (int)row);
    }
}

/* The i-th stitch of a change in the rows as worked, each cell in all repeats: its row and its place there. */
static struct worked_row *spot(const struct search *search, const struct recolour *change, int i, int *place)
{
    struct recolour_cell cell = change->cell[i / search->band->repeats];
    struct worked_row *row = &search->rows[cell.row];

    *place = place_of(search, cell.row, cell.column) + i % search->band->repeats * row->each;
    return row;
}

static int64_t put_all(struct search *search, const struct recolour *change, bool back, int *reach)
{
    int64_t saved = 0;
    int place, repeats = search->band->repeats;

    for (int i = 0; i < change->ncells * repeats; i++) {
        struct worked_row *row = spot(search, change, i, &place);
        const struct recolour_cell *cell = &change->cell[i / repeats];

        search->steps += 8;
        saved += worked_put(row, place, back ? cell->was : cell->yarn, reach);
    }
    return saved;
}

/* Puts the change in, in every repeat, and takes it out again. Returned: catches saved, or LOST; behind_sts filled. */
static int64_t reckon(struct search *search, struct recolour *change, int *reach)
{
    int place, repeats = search->band->repeats;

    *reach = 0;
    change->behind_sts = 0;
    change->saved = put_all(search, change, false, reach);
    for (int i = 0; i < change->ncells * repeats; i++) {
        const struct worked_row *row = spot(search, change, i, &place);
        struct worked_way way = worked_way(row, place, change->cell[i / repeats].was);

        change->behind_sts = way.span_sts > change->behind_sts ? way.span_sts : change->behind_sts;
        if (!way.met_below && !way.met_above)
            change->saved = LOST;
    }
    put_all(search, change, true, &place);
    return change->saved;
}

int64_t recolour_saves(struct work *work, const struct recolour_band *band, const struct recolour *change)
{
    struct arena *scratch = arena_branch(work->arena);
    struct search search;
    int64_t saved;
    int reach = 0;

    begin(scratch, band, &search);
    saved = put_all(&search, change, false, &reach); /* a yarn may leave the repeat that a side stitch keeps */
    arena_destroy(scratch);
    return saved;
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

        cell.was = grid_at(band->knitted, cell.row, cell.column);
        cell.yarn = yarn;
        if (cell.was == GRID_NO_STITCH || cell.was != grid_at(band->drawn, cell.row, cell.column))
            return false;
        if (cell.was != yarn)
            change->cell[kept++] = cell;
    }
    change->ncells = kept;
    return kept > 0;
}

/* false: more partners than there is room for, or fill_yarns(). */
static bool with_partners(const struct recolour_band *band, int row, int column, uint8_t yarn,
                          struct recolour *change)
{
    change->cell[0] = (struct recolour_cell){.row = row, .column = column};
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
            change->cell[change->ncells++] = (struct recolour_cell){.row = r, .column = c};
        }
    qsort(change->cell, (size_t)change->ncells, sizeof *change->cell, compare_cells);
    return fill_yarns(band, yarn, change);
}

static void change_of(const struct search *search, const struct candidate *candidate, struct recolour *change)
{
    with_partners(search->band, candidate->row, candidate->column, candidate->yarn, change);
    change->saved = candidate->saved;
    change->behind_sts = candidate->behind_sts;
}

/* --- all of them ----------------------------------------------------------------------------- */

/* What its floats could save at most: all their catches. Nor can a changed stitch save more than one: with
 * L = m + 1 it cuts a float of n = a + b + 1 in a and b, and n div L <= a div L + b div L + 1; and the
 * yarn it was in can only float farther. */
static int64_t most_it_can(struct search *search, const struct recolour *change)
{
    int64_t most = 0, stitches = (int64_t)change->ncells * search->band->repeats;

    for (int i = 0, last = 0; i < stitches; i++) {
        int place, k = i % search->band->repeats;
        const struct worked_row *row = spot(search, change, i, &place);
        struct worked_way way = worked_way(row, place, change->cell[i / search->band->repeats].yarn);

        if (k == 0 || place - way.below != last) /* another float */
            most += floats_fewest_catches(way.span_sts, search->band->leave_sts);
        last = place - way.below;
    }
    return most < stitches ? most : stitches;
}

/* Of the repeats the first in which a float over the limit is there; -1: none. */
static int first_over(const struct search *search, int row, int column, uint8_t yarn, int *place,
                      struct worked_way *way)
{
    const struct worked_row *in = &search->rows[row];

    *place = place_of(search, row, column);
    if (!(in->yarns >> yarn & 1) || in->yarn_of[*place] == yarn)
        return -1;
    for (int k = 0; k < search->band->repeats; k++, *place += in->each) {
        *way = worked_way(in, *place, yarn);
        if (way->span_sts > search->band->leave_sts)
            return k;
    }
    return -1;
}

/* How near the middle of its float any of them is; -1: listed already, where one before it is. */
static int least_off_middle(const struct search *search, const struct recolour *change, int row, int column)
{
    int least = INT_MAX;

    for (int i = 0; i < change->ncells; i++) {
        const struct recolour_cell *cell = &change->cell[i];
        struct worked_way way;
        int place, off;

        if (first_over(search, cell->row, cell->column, cell->yarn, &place, &way) < 0)
            continue;
        if (cell->row < row || (cell->row == row && cell->column < column))
            return -1;
        off = abs(2 * (way.below + 1) - (way.span_sts + 1));
        least = off < least ? off : least;
    }
    return least;
}

static int compare(const void *a, const void *b)
{
    const struct candidate *x = a, *y = b;
    const int64_t order[] = {y->saved - x->saved,           x->ncells - y->ncells, x->behind_sts - y->behind_sts,
                             x->off_middle - y->off_middle, x->row - y->row,       x->column - y->column,
                             x->yarn - y->yarn};

    return first_unlike(order, 7);
}

static void sort(struct search *search, int from, int to)
{
    if (to > from)
        qsort(search->candidates + from, (size_t)(to - from), sizeof *search->candidates, compare);
}

/* Those that save first, sorted. */
static void sort_saving(struct search *search)
{
    search->nsaving = 0;
    for (int i = 0; i < search->ncandidates; i++) {
        struct candidate one = search->candidates[i];

        if (one.saved <= 0)
            continue;
        search->candidates[i] = search->candidates[search->nsaving];
        search->candidates[search->nsaving++] = one;
    }
    sort(search, 0, search->nsaving);
}

/* A change has its floats over so many columns at most, and shares no row with a stitch beyond: of so many the best
 * there are under other floats, or in other rows. */
static int enough(const struct search *search)
{
    int cells = search->band->nsymmetries > 0 ? RECOLOUR_CELLS_MAX : 1;

    return cells * search->band->knitted->ncols * (RECOLOUR_ONES_MAX + search->nyarns);
}

static void leave_out(struct search *search)
{
    sort_saving(search);
    search->nsaving = search->nsaving < enough(search) ? search->nsaving : enough(search);
    search->ncandidates = search->nsaving;
    search->left_out = true;
}

static void keep(struct search *search, const struct candidate *candidate)
{
    const struct candidate *last = search->left_out && search->nsaving == enough(search)
                                       ? &search->candidates[search->nsaving - 1]
                                       : NULL;

    if ((search->left_out && candidate->saved <= 0) || (last && compare(candidate, last) > 0))
        return;
    if (!search->all && search->ncandidates >= 2 * enough(search))
        leave_out(search);
    if ((size_t)search->ncandidates == search->room) {
        size_t room = 2 * search->room + 64;

        search->candidates = arena_grow(search->scratch, search->candidates, search->room, room,
                                        sizeof *search->candidates);
        search->room = room;
    }
    search->candidates[search->ncandidates++] = *candidate;
}

/* A float over the limit passes behind that place: the stitch, with its partners, if they were not listed yet. */
static void list_stitch(struct search *search, int row, int column, uint8_t yarn, int place,
                        const struct worked_way *way)
{
    int n = search->rows[row].n, off;
    struct candidate candidate;
    struct recolour change;

    if (!with_partners(search->band, row, column, yarn, &change))
        return;
    off = least_off_middle(search, &change, row, column);
    if (off < 0)
        return;
    candidate = (struct candidate){.row = change.cell[0].row, /* stands for all its partners */
                                   .column = change.cell[0].column,
                                   .ncells = change.ncells,
                                   .yarn = yarn,
                                   .off_middle = off,
                                   .from = (place - way->below - 1 + n) % n,
                                   .of_float = floats_fewest_catches(way->span_sts, search->band->leave_sts)};
    candidate.most = most_it_can(search, &change);
    candidate.saved = reckon(search, &change, &candidate.reach);
    candidate.behind_sts = change.behind_sts;
    search->most = candidate.most > search->most ? candidate.most : search->most;
    if (search->band->ends != FLOATS_RING)
        candidate.reach = search->width;
    keep(search, &candidate);
}

static void list(struct search *search)
{
    const struct grid *grid = search->band->knitted;

    search->ncandidates = 0;
    search->left_out = false;
    for (int row = 0; row < grid->nrows && (search->all || search->steps < STEPS_MAX); row++)
        for (int column = 0; column < grid->ncols; column++)
            for (int yarn = 0; yarn < search->nyarns; yarn++) {
                int place, k;
                struct worked_way way;

                if (!(search->rows[row].yarns >> yarn & 1) || place_of(search, row, column) < 0)
                    continue;
                k = first_over(search, row, column, (uint8_t)yarn, &place, &way);
                search->steps += 4 * (k < 0 ? 1 : k + 1);
                if (k >= 0)
                    list_stitch(search, row, column, (uint8_t)yarn, place, &way);
            }
    sort_saving(search);
}

/* Has a float behind one of its stitches been chosen? */
static bool is_taken(const struct search *search, const struct recolour *change, uint8_t yarn)
{
    int place;

    for (int i = 0; i < change->ncells * search->band->repeats; i++) {
        const struct worked_row *row = spot(search, change, i, &place);

        if (row->taken && row->taken[place] >> yarn & 1)
            return true;
    }
    return false;
}

static void take(struct search *search, const struct recolour *change, uint8_t yarn)
{
    for (int i = 0; i < change->ncells * search->band->repeats; i++) {
        int place;
        struct worked_row *row = spot(search, change, i, &place);
        struct worked_way way = worked_way(row, place, yarn);

        if (!row->taken)
            row->taken = arena_alloc(search->scratch, (size_t)row->n, sizeof *row->taken);
        for (int off = -way.below; off <= way.above; off++)
            row->taken[(place + off + row->n) % row->n] |= (uint64_t)1 << yarn;
    }
}

/* The best under each float; its partners' floats are those of its partners. */
static void pick_ones(struct search *search, struct recolour_found *found)
{
    for (int i = 0; i < search->nsaving && found->nones < RECOLOUR_ONES_MAX; i++) {
        struct recolour *one = &found->one[found->nones];
        const struct candidate *candidate = &search->candidates[i];

        change_of(search, candidate, one);
        if (is_taken(search, one, candidate->yarn))
            continue;
        take(search, one, candidate->yarn);
        search->one[found->nones++] = i;
    }
}

/* --- two together ---------------------------------------------------------------------------- */

/* Do the two come within reach of each other in a row? With one, or the ring, to go: all of a row. */
static bool meet(const struct search *search, const struct recolour *x, int reach, const struct recolour *y)
{
    int ncols = search->band->knitted->ncols;

    for (int i = 0; i < x->ncells; i++)
        for (int j = 0; j < y->ncells; j++) {
            int off = abs(x->cell[i].column - y->cell[j].column);

            if (x->cell[i].row == y->cell[j].row && (off <= reach || ncols - off <= reach))
                return true;
        }
    return false;
}

/* Both together, by row, then column. false: they have a stitch in common. */
static bool unite(const struct recolour *x, const struct recolour *y, struct recolour *out)
{
    int i = 0, j = 0;

    out->ncells = 0;
    while (i < x->ncells || j < y->ncells) {
        int order = i == x->ncells ? 1 : j == y->ncells ? -1 : compare_cells(&x->cell[i], &y->cell[j]);
        const struct recolour *of = order < 0 ? x : y;
        int k = order < 0 ? i++ : j++;

        if (order == 0)
            return false;
        out->cell[out->ncells++] = of->cell[k];
    }
    return true;
}

struct best {
    int64_t saved;
    int a, b; /* candidates; -1: none */
};

/* Those that save stand by what they save: the first two in different rows that cannot be bettered. */
static void best_apart(struct search *search, struct best *best)
{
    const struct candidate *all = search->candidates;
    struct recolour x, y;

    for (int i = 0; i + 1 < search->nsaving && all[i].saved + all[i + 1].saved > best->saved; i++) {
        change_of(search, &all[i], &x);
        for (int j = i + 1; j < search->nsaving && all[i].saved + all[j].saved > best->saved; j++) {
            change_of(search, &all[j], &y);
            if (!meet(search, &x, search->width, &y))
                *best = (struct best){all[i].saved + all[j].saved, i, j};
        }
    }
}

/* A candidate stands under every row it changes. */
struct entry {
    int row, candidate;
    int64_t most;
};

static int compare_entries(const void *a, const void *b)
{
    const struct entry *x = a, *y = b;

    return first_unlike((const int64_t[]){x->row - y->row, y->most - x->most, x->candidate - y->candidate}, 3);
}

static struct entry *list_entries(struct search *search, int *count)
{
    size_t room = 0;
    struct entry *entries;
    struct recolour change;

    for (int i = 0; i < search->ncandidates; i++)
        room += (size_t)search->candidates[i].ncells;
    entries = arena_alloc(search->scratch, room, sizeof *entries);
    *count = 0;
    for (int i = 0; i < search->ncandidates; i++) {
        change_of(search, &search->candidates[i], &change);
        for (int k = 0; k < change.ncells; k++)
            if (k == 0 || change.cell[k].row != change.cell[k - 1].row)
                entries[(*count)++] =
                    (struct entry){change.cell[k].row, i, search->candidates[i].most};
    }
    qsort(entries, (size_t)*count, sizeof *entries, compare_entries);
    return entries;
}

/* Under one float they cannot save more than it takes. */
static int64_t most_of_both(const struct search *search, int a, int b)
{
    const struct candidate *x = &search->candidates[a], *y = &search->candidates[b];
    bool one_float = x->ncells == 1 && y->ncells == 1 && x->yarn == y->yarn && x->row == y->row &&
                     x->from == y->from && search->band->ends == FLOATS_RING;

    return one_float && x->of_float < x->most + y->most ? x->of_float : x->most + y->most;
}

/* Where they touch no float in common they save what both save; else they are put in together. */
static void try_pair(struct search *search, const struct recolour *x, int a, int b, struct best *best)
{
    const struct candidate *all = search->candidates;
    struct recolour y, both;
    int64_t saved;
    int reach;

    change_of(search, &all[b], &y);
    search->steps++;
    if (!meet(search, x, all[a].reach, &y))
        saved = all[a].saved + all[b].saved;
    else if (unite(x, &y, &both))
        saved = reckon(search, &both, &reach);
    else
        return;
    if (saved > best->saved)
        *best = (struct best){saved, a < b ? a : b, a < b ? b : a};
}

/* Only those that could be better than the best so far. Returned: all such were tried. */
static bool best_together(struct search *search, struct best *best)
{
    int count;
    const struct entry *entries;
    struct recolour x;

    if (2 * search->most <= best->saved)
        return true; /* none: in a large chart most often */
    if (search->left_out) {
        int64_t steps = search->steps; /* taken once already */

        search->all = true;
        list(search);
        search->steps = steps;
    }
    sort(search, search->nsaving, search->ncandidates);
    entries = list_entries(search, &count);
    for (int i = 0; i < count; i++) {
        if (2 * entries[i].most <= best->saved)
            continue;
        change_of(search, &search->candidates[entries[i].candidate], &x);
        for (int j = i + 1; j < count && entries[j].row == entries[i].row; j++) {
            if (entries[i].most + entries[j].most <= best->saved)
                break;
            if (search->steps > STEPS_MAX)
                return false;
            if (most_of_both(search, entries[i].candidate, entries[j].candidate) > best->saved)
                try_pair(search, &x, entries[i].candidate, entries[j].candidate, best);
        }
    }
    return true;
}

/* The first two listed, where no others save more: two to look at instead of four. */
static void prefer_ones(struct search *search, const struct recolour_found *found, struct best *best)
{
    struct recolour both;
    int reach;

    if (found->nones >= 2 && unite(&found->one[0], &found->one[1], &both) &&
        reckon(search, &both, &reach) >= best->saved)
        *best = (struct best){both.saved, search->one[0], search->one[1]};
}

static int which_one(const struct search *search, const struct recolour_found *found, int candidate)
{
    for (int k = 0; k < found->nones; k++)
        if (search->one[k] == candidate)
            return k;
    return -1;
}

static void find_pair(struct search *search, struct recolour_found *found)
{
    struct best best = {0, -1, -1};
    struct recolour x, y;
    int reach;

    best_apart(search, &best);
    found->pair_certain = best_together(search, &best);
    prefer_ones(search, found, &best);
    if (best.a < 0 || (found->nones > 0 && best.saved <= found->one[0].saved))
        return; /* no better than one alone */
    change_of(search, &search->candidates[best.a], &x);
    change_of(search, &search->candidates[best.b], &y);
    unite(&x, &y, &found->pair);
    found->has_pair = true;
    reckon(search, &found->pair, &reach);
    found->pair_of[0] = which_one(search, found, best.a);
    found->pair_of[1] = which_one(search, found, best.b);
    if (found->pair_of[0] < 0 || found->pair_of[1] < 0)
        found->pair_of[0] = found->pair_of[1] = -1;
}

void recolour_search(struct work *work, const struct recolour_band *band, struct recolour_found *found)
{
    struct arena *scratch = arena_branch(work->arena);
    struct search search;

    memset(found, 0, sizeof *found);
    begin(scratch, band, &search);
    list(&search);
    found->searched = search.steps < STEPS_MAX;
    if (found->searched) {
        pick_ones(&search, found);
        find_pair(&search, found);
    }
    arena_destroy(scratch);
}
