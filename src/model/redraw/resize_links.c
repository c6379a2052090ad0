/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The lines of the old chart, as links of two stitches; those that symmetry makes of one another are
 * judged once. And whether a new chart holds one.
 */
#include "resize_internal.h"

enum { WAYS = 4, RIB_WIDE = 2, RUN_MAX = 4 };

static const int ways[WAYS][2] = {{1, 0}, {0, 1}, {1, 1}, {-1, 1}};

int resize_old_square(const struct resize_frame *frame, int c, int r)
{
    int ncols = frame->old.ncols, nrows = frame->old.nrows;

    if (!frame->ring && (r < 0 || r >= nrows))
        return -1;
    return (r % nrows + nrows) % nrows * ncols + (c % ncols + ncols) % ncols;
}

bool resize_is_thin(const struct resize_frame *frame, int c, int r)
{
    const uint8_t *cell = frame->old.cell;
    uint8_t colour = cell[resize_old_square(frame, c, r)];

    for (int right = -1; right <= 0; right++)
        for (int up = -1; up <= 0; up++) {
            bool all = true;

            for (int i = 0; i < 4 && all; i++) {
                int at = resize_old_square(frame, c + right + i % 2, r + up + i / 2);

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
    uint8_t colour = cell[resize_old_square(frame, c, r)];
    int run = 1;

    for (int sign = -1; sign <= 1; sign += 2)
        for (int i = 1; i < RUN_MAX; i++) {
            int at = resize_old_square(frame, c + sign * i * side, r + sign * i * up);

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

static bool is_link(const struct resize_frame *frame, const struct resize_parts *parts, int c, int r,
                    const int *way)
{
    int ncols = frame->old.ncols, from = resize_old_square(frame, c, r);
    int to = resize_old_square(frame, c + way[0], r + way[1]);

    if (to < 0 || to == from || frame->old.cell[to] != frame->old.cell[from] ||
        !resize_parts_touch(parts, c, r, to % ncols, to / ncols))
        return false;
    return resize_is_thin(frame, c, r) || resize_is_thin(frame, to % ncols, to / ncols) ||
           is_rib(frame, c, r, way);
}

/* --- those that symmetry makes of one another -------------------------------------------------- */

/* The link between two old squares; -1: there is none. link_at[squares * WAYS]: by the square it begins at. */
static int link_between(const struct resize_frame *frame, const int *link_at, int from, int to)
{
    for (int i = 0; i < 2 * WAYS; i++) {
        int a = i < WAYS ? from : to, b = i < WAYS ? to : from, link = link_at[a * WAYS + i % WAYS];

        if (link >= 0 && frame->links[link].b_row * frame->old.ncols + frame->links[link].b_col == b)
            return link;
    }
    return -1;
}

static int root_of(int *root, int i)
{
    while (root[i] != i)
        i = root[i] = root[root[i]];
    return i;
}

static void links_join(const struct resize_frame *frame, const struct symmetry *move, const int *link_at,
                       int *root)
{
    int ncols = frame->old.ncols, nrows = frame->old.nrows;

    for (int i = 0; i < frame->nlinks_all; i++) {
        const struct resize_link *link = &frame->links[i];
        int from = symmetry_row(move, link->a_row, nrows) * ncols + symmetry_column(move, link->a_col, ncols);
        int to = symmetry_row(move, link->b_row, nrows) * ncols + symmetry_column(move, link->b_col, ncols);
        int image = link_between(frame, link_at, from, to);

        if (image >= 0) {
            int a = root_of(root, i), b = root_of(root, image);

            root[a > b ? a : b] = a > b ? b : a;
        }
    }
}

/* Roots first, with the number of links each stands for. */
static void links_order(struct resize_frame *frame, int *root)
{
    struct resize_link *ordered = arena_alloc(frame->work->arena, (size_t)frame->nlinks_all, sizeof *ordered);
    int n = 0;

    for (int i = 0; i < frame->nlinks_all; i++)
        frame->links[root_of(root, i)].times++;
    for (int stands = 1; stands >= 0; stands--) {
        for (int i = 0; i < frame->nlinks_all; i++)
            if ((frame->links[i].times > 0) == (stands == 1))
                ordered[n++] = frame->links[i];
        if (stands == 1)
            frame->nlinks = n;
    }
    frame->links = ordered;
}

void resize_links_set(struct resize_frame *frame, const struct resize_parts *parts, const struct motif *motif,
                      const bool *keeps)
{
    struct arena *arena = frame->work->arena;
    int ncols = frame->old.ncols, n = ncols * frame->old.nrows;
    int *link_at = arena_alloc(arena, (size_t)n * WAYS, sizeof *link_at), *root;

    frame->links = arena_alloc(arena, (size_t)n * WAYS, sizeof *frame->links);
    for (int i = 0; i < n * WAYS; i++) {
        const int *way = ways[i % WAYS];
        int c = i / WAYS % ncols, r = i / WAYS / ncols, to;

        link_at[i] = -1;
        if (!is_link(frame, parts, c, r, way))
            continue;
        to = resize_old_square(frame, c + way[0], r + way[1]);
        link_at[i] = frame->nlinks_all;
        frame->links[frame->nlinks_all++] =
            (struct resize_link){c, r, to % ncols, to / ncols, frame->old.cell[to], 0};
    }
    root = arena_alloc(arena, (size_t)frame->nlinks_all, sizeof *root);
    for (int i = 0; i < frame->nlinks_all; i++)
        root[i] = i;
    for (int i = 0; i < motif->nmoves; i++)
        if (keeps[i])
            links_join(frame, &motif->move[i], link_at, root);
    links_order(frame, root);
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

    if (patch.wide > frame->ncols)
        patch.wide = frame->ncols;
    if (frame->ring && patch.tall > frame->nrows)
        patch.tall = frame->nrows;
    return patch;
}

static int wrapped(int at, int n)
{
    return at < 0 ? at + n : at >= n ? at - n : at;
}

static bool in_patch(const struct resize_frame *frame, const struct patch *patch, int c, int r)
{
    int side = c - patch->col, rise = r - patch->row;

    while (side < 0)
        side += frame->ncols;
    while (side >= frame->ncols)
        side -= frame->ncols;
    if (side >= patch->wide)
        return false;
    if (frame->ring) {
        while (rise < 0)
            rise += frame->nrows;
        while (rise >= frame->nrows)
            rise -= frame->nrows;
    }
    return rise >= 0 && rise < patch->tall;
}

/* Does a square of the colour hang together with one of the patch, or lie in it? */
static bool reaches(const struct resize_frame *frame, const struct resize_parts *parts, const uint8_t *cell,
                    const struct patch *patch, int c, int r, uint8_t colour)
{
    if (in_patch(frame, patch, c, r))
        return true;
    for (int up = -1; up <= 1; up++) {
        int row = r + up;

        if (!frame->ring && (row < 0 || row >= frame->nrows))
            continue;
        row = wrapped(row, frame->nrows);
        for (int side = -1; side <= 1; side++) {
            int col = wrapped(c + side, frame->ncols), left = side < 0 ? col : c;

            if (cell[row * frame->ncols + col] != colour || !in_patch(frame, patch, col, row))
                continue;
            if (side == 0 || up == 0 ||
                resize_parts_corner(parts, cell, left, up < 0 ? row : r) & (side == up ? 1 : 2))
                return true;
        }
    }
    return false;
}

static bool patches_hang(const struct resize_frame *frame, const struct resize_parts *parts,
                         const uint8_t *cell, const struct resize_link *link, int aside, int rise)
{
    struct patch a = patch_of(frame, link->a_col, link->a_row, aside, rise);
    struct patch b = patch_of(frame, link->b_col, link->b_row, aside, rise);

    for (int up = 0; up < a.tall; up++) {
        int r = a.row + up;

        if (!frame->ring && (r < 0 || r >= frame->nrows))
            continue;
        r = wrapped(r, frame->nrows);
        for (int side = 0; side < a.wide; side++) {
            int c = wrapped(a.col + side, frame->ncols);

            if (cell[r * frame->ncols + c] == link->colour && reaches(frame, parts, cell, &b, c, r, link->colour))
                return true;
        }
    }
    return false;
}

bool resize_line_holds(const struct resize_frame *frame, const struct resize_parts *parts,
                       const uint8_t *cell, const struct resize_link *link)
{
    if (link->a_row != link->b_row && patches_hang(frame, parts, cell, link, 1, 0))
        return true;
    return link->a_col != link->b_col && patches_hang(frame, parts, cell, link, 0, 1);
}
