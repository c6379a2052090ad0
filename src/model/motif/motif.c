/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "motif.h"

#include <stddef.h>

struct motif motif_find(const struct grid *grid, bool rows_are_ring)
{
    struct motif motif = {.rows_are_ring = rows_are_ring};

    motif.nmoves = symmetry_generators(grid, rows_are_ring, motif.move);
    return motif;
}

/* --- the same over another count -------------------------------------------------------- */

static bool is_mirrored(const struct symmetry *move, bool along)
{
    return along ? move->column_is_mirrored : move->row_is_mirrored;
}

static int shift_of(const struct symmetry *move, bool along)
{
    return along ? move->column : move->row;
}

/* A mirror proper in this direction, and not a half-turn: it has a centre line to be seen. */
static bool has_middle(const struct motif *motif, bool along)
{
    for (int i = 0; i < motif->nmoves; i++)
        if (motif->move[i].kind == (along ? SYMMETRY_ACROSS : SYMMETRY_UPSIDE))
            return true;
    return false;
}

/* The smallest piece of the direction that is repeated as it is. */
static int period_of(const struct motif *motif, bool along, int count)
{
    for (int i = 0; i < motif->nmoves; i++) {
        const struct symmetry *move = &motif->move[i];

        if (move->kind == SYMMETRY_ALONG && along)
            return move->column;
        if (move->kind == SYMMETRY_DROP && !along && move->column == 0)
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

static bool keeps_all(const struct motif *motif, bool along, int old_count, int count, const bool *needed)
{
    struct motif_line line = motif_line_of(motif, along, old_count, count);

    for (int i = 0; i < motif->nmoves; i++)
        if (!line.keeps[i] && (!needed || needed[i]))
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
    return motif_count_needed(motif, along, old_count, exact, reach, NULL);
}

int motif_count_needed(const struct motif *motif, bool along, int old_count, struct rational exact,
                       struct rational reach, const bool *needed)
{
    struct rational most = rational_mul(exact, reach);
    int64_t low = rational_ceil(rational_sub(exact, most)), high = rational_floor(rational_add(exact, most));
    int best = 0;

    for (int64_t count = low < 1 ? 1 : low; count <= high && count <= GRID_SIDE_MAX; count++)
        if (keeps_all(motif, along, old_count, (int)count, needed) &&
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
