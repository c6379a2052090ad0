/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The lines of the old chart, as links of two stitches; those that symmetry makes of one another are
 * judged once. And whether a new chart holds one.
 */
#include "resize_internal.h"

enum { RIB_WIDE = 2, RUN_MAX = 4 };

bool resize_is_thin(const struct resize_frame *frame, int c, int r)
{
    const uint8_t *cell = frame->old.cell;
    uint8_t colour = cell[resize_square(&frame->old_shape, c, r)];

    for (int right = -1; right <= 0; right++)
        for (int up = -1; up <= 0; up++) {
            bool all = true;

            for (int i = 0; i < 4 && all; i++) {
                int at = resize_square(&frame->old_shape, c + right + i % 2, r + up + i / 2);

                all = at >= 0 && cell[at] == colour;
            }
            if (all)
                return false;
        }
    return true;
}

/* Stitches of its colour on end through this one, along the row or upwards; counted up to RUN_MAX. */
static int run_through(const struct resize_frame *frame, int c, int r, int side, int up)
{
    const uint8_t *cell = frame->old.cell;
    uint8_t colour = cell[resize_square(&frame->old_shape, c, r)];
    int run = 1;

    for (int sign = -1; sign <= 1; sign += 2)
        for (int i = 1; i < RUN_MAX; i++) {
            int at = resize_square(&frame->old_shape, c + sign * i * side, r + sign * i * up);

            if (at < 0 || cell[at] != colour)
                break;
            run++;
        }
    return run < RUN_MAX ? run : RUN_MAX;
}

/* Two stitches side by side along a rib: RUN_MAX or more on end that way, and two across at both. */
static bool is_rib(const struct resize_frame *frame, int c, int r, const int *way)
{
    if (way[0] != 0 && way[1] != 0)
        return false;
    return run_through(frame, c, r, way[0], way[1]) >= RUN_MAX &&
           run_through(frame, c, r, way[1], way[0]) <= RIB_WIDE &&
           run_through(frame, c + way[0], r + way[1], way[1], way[0]) <= RIB_WIDE;
}

/* Links are numbered by the old square they begin at, and their way. */
static int link_end(const struct resize_frame *frame, int number)
{
    const int *way = resize_ways[number % RESIZE_WAYS];
    int from = number / RESIZE_WAYS, ncols = frame->old.ncols;

    return resize_square(&frame->old_shape, from % ncols + way[0], from / ncols + way[1]);
}

static bool is_link(const struct resize_frame *frame, int number)
{
    const int *way = resize_ways[number % RESIZE_WAYS];
    int from = number / RESIZE_WAYS, to = link_end(frame, number), ncols = frame->old.ncols;
    int c = from % ncols, r = from / ncols;

    if (to < 0 || to == from || frame->old.cell[to] != frame->old.cell[from] ||
        !resize_hangs(&frame->old_shape, frame->old.cell, c, r, way[0], way[1]))
        return false;
    return resize_is_thin(frame, c, r) || resize_is_thin(frame, to % ncols, to / ncols) || is_rib(frame, c, r, way);
}

/* --- those that symmetry makes of one another -------------------------------------------------- */

static int square_image(const struct resize_frame *frame, const struct symmetry *move, int at)
{
    int ncols = frame->old.ncols, nrows = frame->old.nrows;

    return symmetry_row(move, at / ncols, nrows) * ncols + symmetry_column(move, at % ncols, ncols);
}

/* -1: there is none. root: -1 where there is no link. */
static int link_image(const struct resize_frame *frame, const struct symmetry *move, const int *root, int number)
{
    int from = square_image(frame, move, number / RESIZE_WAYS);
    int to = square_image(frame, move, link_end(frame, number));

    for (int i = 0; i < 2 * RESIZE_WAYS; i++) {
        int image = (i < RESIZE_WAYS ? from : to) * RESIZE_WAYS + i % RESIZE_WAYS;

        if (root[image] >= 0 && link_end(frame, image) == (i < RESIZE_WAYS ? to : from))
            return image;
    }
    return -1;
}

static void link_add(struct resize_frame *frame, int number, int times)
{
    int ncols = frame->old.ncols, from = number / RESIZE_WAYS, to = link_end(frame, number);

    frame->links[frame->nlinks_all++] = (struct resize_link){from % ncols, from / ncols, to % ncols,
                                                             to / ncols, frame->old.cell[from], times};
}

void resize_links_set(struct resize_frame *frame, const struct motif *motif, const bool *keeps)
{
    struct arena *arena = frame->work->arena;
    int n = frame->old.ncols * frame->old.nrows * RESIZE_WAYS, count = 0;
    int *root = arena_alloc(arena, (size_t)n, sizeof *root), *times = arena_alloc(arena, (size_t)n, sizeof *times);

    for (int i = 0; i < n; i++) {
        root[i] = is_link(frame, i) ? i : -1;
        count += root[i] >= 0;
    }
    for (int k = 0; k < motif->nmoves; k++)
        for (int i = 0; keeps[k] && i < n; i++) {
            int image = root[i] >= 0 ? link_image(frame, &motif->move[k], root, i) : -1;

            if (image >= 0)
                resize_unite(root, i, image);
        }
    for (int i = 0; i < n; i++)
        if (root[i] >= 0)
            times[resize_root(root, i)]++;
    frame->links = arena_alloc(arena, (size_t)count, sizeof *frame->links);
    for (int i = 0; i < n; i++)
        if (times[i] > 0)
            link_add(frame, i, times[i]);
    frame->nlinks = frame->nlinks_all;
    for (int i = 0; i < n; i++)
        if (root[i] >= 0 && times[i] == 0)
            link_add(frame, i, 0);
}

/* --- does one hold? ------------------------------------------------------------------------------ */

/* Stitches over an old one, and so many beside them. */
struct patch {
    int col, row, wide, tall;
};

/* A line may step aside by one stitch, across its own way: not along it, or a gap would pass. */
static struct patch patch_of(const struct resize_frame *frame, int old_col, int old_row, int aside, int rise)
{
    struct patch patch = {frame->x.new_first[old_col] - aside, frame->y.new_first[old_row] - rise,
                          frame->x.new_count[old_col] + 2 * aside, frame->y.new_count[old_row] + 2 * rise};

    if (patch.wide > frame->shape.ncols)
        patch.wide = frame->shape.ncols;
    if (frame->shape.ring && patch.tall > frame->shape.nrows)
        patch.tall = frame->shape.nrows;
    return patch;
}

static bool in_patch(const struct resize_shape *shape, const struct patch *patch, int c, int r)
{
    int rise = r - patch->row;

    if (resize_wrap(c - patch->col, shape->ncols) >= patch->wide)
        return false;
    if (shape->ring)
        rise = resize_wrap(rise, shape->nrows);
    return rise >= 0 && rise < patch->tall;
}

/* Does a square hang together with one of the patch, or lie in it? */
static bool reaches(const struct resize_shape *shape, const uint8_t *cell, const struct patch *patch, int c, int r)
{
    uint8_t colour = cell[r * shape->ncols + c];

    if (in_patch(shape, patch, c, r))
        return true;
    for (int up = -1; up <= 1; up++) {
        if (!shape->ring && (r + up < 0 || r + up >= shape->nrows))
            continue;
        for (int side = -1; side <= 1; side++) {
            int row = resize_wrap(r + up, shape->nrows), col = resize_wrap(c + side, shape->ncols);

            if (cell[row * shape->ncols + col] == colour && in_patch(shape, patch, col, row) &&
                resize_hangs(shape, cell, c, r, side, up))
                return true;
        }
    }
    return false;
}

static bool patches_hang(const struct resize_frame *frame, const uint8_t *cell, const struct resize_link *link,
                         int aside, int rise)
{
    const struct resize_shape *shape = &frame->shape;
    struct patch a = patch_of(frame, link->a_col, link->a_row, aside, rise);
    struct patch b = patch_of(frame, link->b_col, link->b_row, aside, rise);

    for (int up = 0; up < a.tall; up++)
        for (int side = 0; side < a.wide; side++) {
            int at = resize_square(shape, a.col + side, a.row + up);

            if (at >= 0 && cell[at] == link->colour &&
                reaches(shape, cell, &b, at % shape->ncols, at / shape->ncols))
                return true;
        }
    return false;
}

bool resize_link_holds(const struct resize_frame *frame, const uint8_t *cell, const struct resize_link *link)
{
    if (link->a_row != link->b_row && patches_hang(frame, cell, link, 1, 0))
        return true;
    return link->a_col != link->b_col && patches_hang(frame, cell, link, 0, 1);
}
