/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Moves along and up form a lattice, of which the least two generate all; of each way of
 * mirroring one is enough, since two of a kind differ by a move of the lattice. So the search
 * stops at the first of each, and a wrong move is found out after a few squares.
 */
#include "motif.h"

#include <stdint.h>
#include <stddef.h>

static int wrapped(int value, int count)
{
    int rest = value % count;

    return rest < 0 ? rest + count : rest;
}

int motif_move_column(const struct motif_move *move, int column, int ncols)
{
    return wrapped(move->column_is_mirrored ? move->column - column : move->column + column, ncols);
}

int motif_move_row(const struct motif_move *move, int row, int nrows)
{
    return wrapped(move->row_is_mirrored ? move->row - row : move->row + row, nrows);
}

/* --- does a move hold? A large chart is not read again for each ------------------------------- */

enum { PROBES = 16 };

/* Stitches at which most moves fail: first some of the scarcest yarn, in time those at which one failed. */
struct probe {
    const struct grid *grid;
    int row[PROBES], column[PROBES], nprobes, oldest;
};

static struct probe probe_of(const struct grid *grid)
{
    struct probe probe = {.grid = grid};
    int64_t count[256] = {0}, ncells = (int64_t)grid->nrows * grid->ncols;
    int scarcest = -1;

    for (int64_t i = 0; i < ncells; i++)
        count[grid->cell[i]]++;
    for (int yarn = 0; yarn < 256; yarn++)
        if (count[yarn] > 0 && (scarcest < 0 || count[yarn] < count[scarcest]))
            scarcest = yarn;
    for (int64_t i = 0; i < ncells && probe.nprobes < PROBES / 2; i++)
        if (grid->cell[i] == scarcest) {
            probe.row[probe.nprobes] = (int)(i / grid->ncols);
            probe.column[probe.nprobes++] = (int)(i % grid->ncols);
        }
    return probe;
}

static bool stays(const struct grid *grid, const struct motif_move *move, int row, int column)
{
    size_t to = (size_t)motif_move_row(move, row, grid->nrows) * (size_t)grid->ncols +
                (size_t)motif_move_column(move, column, grid->ncols);

    return grid->cell[(size_t)row * (size_t)grid->ncols + (size_t)column] == grid->cell[to];
}

/* The second half of the probes changes. */
static void remember(struct probe *probe, int row, int column)
{
    int at = probe->nprobes;

    if (probe->nprobes < PROBES)
        probe->nprobes++;
    else
        at = PROBES / 2 + probe->oldest++ % (PROBES / 2);
    probe->row[at] = row;
    probe->column[at] = column;
}

/* Does the move bring every stitch onto one of its yarn? The probes first. */
static bool allows(struct probe *probe, const struct motif_move *move)
{
    const struct grid *grid = probe->grid;

    for (int i = 0; i < probe->nprobes; i++)
        if (!stays(grid, move, probe->row[i], probe->column[i]))
            return false;
    for (int r = 0; r < grid->nrows; r++)
        for (int c = 0; c < grid->ncols; c++)
            if (!stays(grid, move, r, c)) {
                remember(probe, r, c);
                return false;
            }
    return true;
}

static void add_move(struct motif *motif, struct motif_move move)
{
    motif->move[motif->nmoves++] = move;
}

/* Returned: the least move along a row, or all the columns. */
static int find_along(struct motif *motif, struct probe *probe)
{
    const struct grid *grid = probe->grid;

    for (int c = 1; c < grid->ncols; c++) {
        struct motif_move move = {MOTIF_ALONG, false, false, c, 0};

        if (grid->ncols % c == 0 && allows(probe, &move)) {
            add_move(motif, move);
            return c;
        }
    }
    return grid->ncols;
}

static int find_drop(struct motif *motif, struct probe *probe, int period)
{
    const struct grid *grid = probe->grid;

    for (int r = 1; r < grid->nrows; r++)
        for (int c = 0; grid->nrows % r == 0 && c < period; c++) {
            struct motif_move move = {MOTIF_DROP, false, false, c, r};

            if (allows(probe, &move)) {
                add_move(motif, move);
                return r;
            }
        }
    return grid->nrows;
}

/* May top and bottom be exchanged by this move? */
static bool row_axis_stands(const struct motif *motif, int nrows, int row)
{
    return motif->rows_are_ring || row == nrows - 1 || 2 * (row + 1) == nrows;
}

static void find_across(struct motif *motif, struct probe *probe, int period, int rise)
{
    const struct grid *grid = probe->grid;

    for (int r = 0; r < rise; r++)
        for (int c = 0; c < period; c++) {
            /* from the middle of the chart on, which is where a knitter looks for it */
            struct motif_move move = {MOTIF_ACROSS, true, false, wrapped(grid->ncols - 1 - c, grid->ncols), r};

            if (allows(probe, &move)) {
                add_move(motif, move);
                return;
            }
        }
}

static void find_upside(struct motif *motif, struct probe *probe, int period)
{
    const struct grid *grid = probe->grid;

    for (int c = 0; c < period; c++)
        for (int r = grid->nrows - 1; r >= 0; r--) {
            struct motif_move move = {MOTIF_UPSIDE, false, true, c, r};

            if (row_axis_stands(motif, grid->nrows, r) && allows(probe, &move)) {
                add_move(motif, move);
                return;
            }
        }
}

static void find_turn(struct motif *motif, struct probe *probe, int period)
{
    const struct grid *grid = probe->grid;

    for (int r = grid->nrows - 1; r >= 0; r--)
        for (int c = grid->ncols - 1; c >= grid->ncols - period; c--) {
            struct motif_move move = {MOTIF_TURN, true, true, c, r};

            if (row_axis_stands(motif, grid->nrows, r) && allows(probe, &move)) {
                add_move(motif, move);
                return;
            }
        }
}

struct motif motif_find(const struct grid *grid, bool rows_are_ring)
{
    struct motif motif = {.rows_are_ring = rows_are_ring};
    struct probe probe = probe_of(grid);
    int period = find_along(&motif, &probe);
    int rise = find_drop(&motif, &probe, period), before;

    before = motif.nmoves;
    find_across(&motif, &probe, period, rise);
    find_upside(&motif, &probe, period);
    if (motif.nmoves == before)
        find_turn(&motif, &probe, period);
    return motif;
}

/* --- the same over another count -------------------------------------------------------- */

static bool is_mirrored(const struct motif_move *move, bool along)
{
    return along ? move->column_is_mirrored : move->row_is_mirrored;
}

static int shift_of(const struct motif_move *move, bool along)
{
    return along ? move->column : move->row;
}

/* A mirror proper in this direction, and not a half-turn: it has a centre line to be seen. */
static bool has_middle(const struct motif *motif, bool along)
{
    for (int i = 0; i < motif->nmoves; i++)
        if (motif->move[i].kind == (along ? MOTIF_ACROSS : MOTIF_UPSIDE))
            return true;
    return false;
}

/* The smallest piece of the direction that is repeated as it is. */
static int period_of(const struct motif *motif, bool along, int count)
{
    for (int i = 0; i < motif->nmoves; i++) {
        const struct motif_move *move = &motif->move[i];

        if (move->kind == MOTIF_ALONG && along)
            return move->column;
        if (move->kind == MOTIF_DROP && !along && move->column == 0)
            return move->row;
    }
    return count;
}

/* Where the first mirror goes: the square nearest its true place, on a stitch if it was on one. */
static int64_t phase_of(const struct motif *motif, bool along, int old_count, int count,
                        bool keeps_middle)
{
    for (int i = 0; i < motif->nmoves; i++) {
        int64_t shift = shift_of(&motif->move[i], along), put, at;

        if (!is_mirrored(&motif->move[i], along))
            continue;
        if (shift % 2 != 0 && old_count % 2 != 0)
            shift += old_count; /* the same move, named by its axis on a stitch */
        at = (shift + 1) * count; /* old_count times the true place, plus one */
        if (keeps_middle && has_middle(motif, along)) {
            int64_t half = rational_nearest(rational_make(at - (shift % 2 + 1) * old_count, 2 * old_count));

            put = 2 * half + shift % 2 + 1;
        } else {
            put = rational_nearest(rational_make(at, old_count));
        }
        return put * old_count - at;
    }
    return 0;
}

struct motif_line motif_line_of(const struct motif *motif, bool along, int old_count, int count)
{
    struct motif_line line = {.count = count, .keeps_middle = true};
    int pieces = old_count / period_of(motif, along, old_count);

    if (has_middle(motif, along))
        line.keeps_middle = count % 2 == old_count % 2 &&
                            (count % pieces != 0 ||
                             count / pieces % 2 == old_count / pieces % 2);
    if (along || motif->rows_are_ring)
        line.phase = phase_of(motif, along, old_count, count, line.keeps_middle);
    for (int i = 0; i < motif->nmoves; i++) {
        int64_t shift = shift_of(&motif->move[i], along);

        line.keeps[i] = is_mirrored(&motif->move[i], along)
                            ? ((shift + 1) * count + line.phase) % old_count == 0
                            : shift * count % old_count == 0;
    }
    return line;
}

static bool keeps_all(const struct motif *motif, bool along, int old_count, int count)
{
    struct motif_line line = motif_line_of(motif, along, old_count, count);

    for (int i = 0; i < motif->nmoves; i++)
        if (!line.keeps[i])
            return false;
    return line.keeps_middle;
}

static bool is_nearer(struct rational exact, int64_t a, int64_t b)
{
    struct rational from_a = rational_sub(rational_whole(a), exact);
    struct rational from_b = rational_sub(rational_whole(b), exact);

    if (rational_sign(from_a) < 0)
        from_a = rational_sub(rational_whole(0), from_a);
    if (rational_sign(from_b) < 0)
        from_b = rational_sub(rational_whole(0), from_b);
    return rational_compare(from_a, from_b) < 0 || (rational_compare(from_a, from_b) == 0 && a > b);
}

int motif_count_near(const struct motif *motif, bool along, int old_count, struct rational exact,
                     struct rational reach)
{
    struct rational most = rational_mul(exact, reach);
    int64_t low = rational_ceil(rational_sub(exact, most)), high = rational_floor(rational_add(exact, most));
    int best = 0;

    for (int64_t count = low < 1 ? 1 : low; count <= high && count <= GRID_SIDE_MAX; count++)
        if (keeps_all(motif, along, old_count, (int)count) &&
            (best == 0 || is_nearer(exact, count, best)))
            best = (int)count;
    return best;
}

int motif_count_middle(const struct motif *motif, bool along, int old_count, struct rational exact)
{
    int64_t near = rational_nearest(exact);
    int best = 0;

    for (int64_t count = near < 2 ? 1 : near - 1; count <= near + 2; count++)
        if ((!has_middle(motif, along) || count % 2 == old_count % 2) &&
            (best == 0 || is_nearer(exact, count, best)))
            best = (int)count;
    return best;
}
