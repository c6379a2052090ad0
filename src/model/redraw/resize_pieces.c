/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The parts of a chart being changed, and which old part each comes from, kept up to date: where
 * squares change, the pieces round about are dropped and found anew, the others stay.
 */
#include <string.h>

#include "resize_internal.h"

enum { REACH = 2 /* of a changed square: corners turn up to there */ };

struct resize_pieces {
    const struct resize_frame *frame;
    const struct resize_parts *parts; /* its corners are those of cell */
    const uint8_t *cell;
    int *label;                   /* [ncells] the piece of a square */
    int *owner;                   /* [labels] old part it comes from, or -1 */
    int *pair_head;               /* [labels] old parts under it: a list */
    int *pair_next, *pair_part, free_pair, npairs_free;
    int64_t *pair_area;
    int *free_label, nfree;
    int *owned, *touched;         /* [old parts] pieces that come from it; that lie over it */
    int serial;                   /* of the piece being made */
    int *slot, *slot_serial;      /* [old parts] its pair in the list of that piece, where it has its serial */
    struct resize_faults faults;  /* of parts alone */
    uint8_t *is_dropped, *is_made; /* [labels] in the change being tried */
    int *dropped, ndropped, *made, nmade;
    int *moved, *moved_from, nmoved; /* squares, and the labels they had */
    int *queue;
};

struct resize_pieces *resize_pieces_make(const struct resize_frame *frame, const struct resize_parts *parts,
                                         const uint8_t *cell)
{
    struct arena *arena = frame->work->arena;
    struct resize_pieces *pieces = arena_alloc(arena, 1, sizeof *pieces);
    size_t n = (size_t)frame->ncells, nunder = (size_t)frame->under_start[n * (size_t)frame->ncolours];

    *pieces = (struct resize_pieces){.frame = frame, .parts = parts, .cell = cell};
    pieces->label = arena_alloc(arena, n, sizeof(int));
    pieces->owner = arena_alloc(arena, 2 * n, sizeof(int));
    pieces->pair_head = arena_alloc(arena, 2 * n, sizeof(int));
    pieces->pair_next = arena_alloc(arena, 2 * nunder, sizeof(int));
    pieces->pair_part = arena_alloc(arena, 2 * nunder, sizeof(int));
    pieces->pair_area = arena_alloc(arena, 2 * nunder, sizeof(int64_t));
    pieces->free_label = arena_alloc(arena, 2 * n, sizeof(int));
    pieces->owned = arena_alloc(arena, (size_t)frame->nparts, sizeof(int));
    pieces->touched = arena_alloc(arena, (size_t)frame->nparts, sizeof(int));
    pieces->slot = arena_alloc(arena, (size_t)frame->nparts, sizeof(int));
    pieces->slot_serial = arena_alloc(arena, (size_t)frame->nparts, sizeof(int));
    pieces->is_dropped = arena_alloc(arena, 2 * n, 1);
    pieces->is_made = arena_alloc(arena, 2 * n, 1);
    pieces->dropped = arena_alloc(arena, 2 * n, sizeof(int));
    pieces->made = arena_alloc(arena, 2 * n, sizeof(int));
    pieces->moved = arena_alloc(arena, n, sizeof(int));
    pieces->moved_from = arena_alloc(arena, n, sizeof(int));
    pieces->queue = arena_alloc(arena, n, sizeof(int));
    return pieces;
}

/* --- what a piece counts for --------------------------------------------------------------------- */

/* The faults of an old part, added or taken away. */
static void part_counts(struct resize_pieces *pieces, int part, int sign)
{
    struct resize_faults *faults = &pieces->faults;

    if (pieces->owned[part] > 0) {
        faults->split += sign * (pieces->owned[part] - 1);
        return;
    }
    faults->joined += pieces->touched[part] > 0 ? sign : 0;
    faults->lost += pieces->touched[part] > 0 ? 0 : sign;
    faults->holes += pieces->touched[part] == 0 && pieces->frame->is_hole[part] ? sign : 0;
}

static void piece_counts(struct resize_pieces *pieces, int label, int sign)
{
    int owner = pieces->owner[label];

    for (int at = pieces->pair_head[label]; at >= 0; at = pieces->pair_next[at]) {
        int part = pieces->pair_part[at];

        part_counts(pieces, part, -1);
        pieces->touched[part] += sign;
        pieces->owned[part] += part == owner ? sign : 0;
        part_counts(pieces, part, 1);
    }
    pieces->faults.split += owner < 0 ? sign : 0;
}

static void pair_add(struct resize_pieces *pieces, int label, const struct resize_under *under)
{
    int at;

    if (pieces->slot_serial[under->part] == pieces->serial) {
        pieces->pair_area[pieces->slot[under->part]] += under->area;
        return;
    }
    at = pieces->free_pair;
    pieces->slot[under->part] = at;
    pieces->slot_serial[under->part] = pieces->serial;
    pieces->free_pair = pieces->pair_next[at];
    pieces->npairs_free--;
    pieces->pair_part[at] = under->part;
    pieces->pair_area[at] = under->area;
    pieces->pair_next[at] = pieces->pair_head[label];
    pieces->pair_head[label] = at;
}

static void square_add(struct resize_pieces *pieces, int label, int square)
{
    const struct resize_frame *frame = pieces->frame;
    int at = square * frame->ncolours + pieces->cell[square];

    for (int u = frame->under_start[at]; u < frame->under_start[at + 1]; u++)
        pair_add(pieces, label, &frame->under[u]);
}

/* Of most of it; ties to the first. */
static void owner_set(struct resize_pieces *pieces, int label)
{
    int64_t most = 0;
    int owner = -1;

    for (int at = pieces->pair_head[label]; at >= 0; at = pieces->pair_next[at])
        if (pieces->pair_area[at] > most ||
            (pieces->pair_area[at] == most && pieces->pair_part[at] < owner)) {
            most = pieces->pair_area[at];
            owner = pieces->pair_part[at];
        }
    pieces->owner[label] = owner;
}

static void label_free(struct resize_pieces *pieces, int label)
{
    int at = pieces->pair_head[label];

    while (at >= 0) {
        int next = pieces->pair_next[at];

        pieces->pair_next[at] = pieces->free_pair;
        pieces->free_pair = at;
        pieces->npairs_free++;
        at = next;
    }
    pieces->free_label[pieces->nfree++] = label;
}

static int label_new(struct resize_pieces *pieces)
{
    int label = pieces->free_label[--pieces->nfree];

    pieces->pair_head[label] = -1;
    pieces->serial++;
    return label;
}

/* --- squares change ---------------------------------------------------------------------------------- */

/* The squares that hang together with one, as far as they go; corners from parts. */
static int neighbours(const struct resize_pieces *pieces, int square, int *list)
{
    const struct resize_frame *frame = pieces->frame;
    const uint8_t *cell = pieces->cell, *diagonal = pieces->parts->diagonal;
    int ncols = frame->ncols, c = square % ncols, row = square - c, n = 0;
    int left = row + (c + 1 < ncols ? c + 1 : 0), right = row + (c > 0 ? c : ncols) - 1;
    bool above = frame->ring || row + ncols < frame->ncells, below = frame->ring || row > 0;
    int up = row + ncols < frame->ncells ? ncols : ncols - frame->ncells;
    int down = row > 0 ? -ncols : frame->ncells - ncols;

    if (cell[left] == cell[square])
        list[n++] = left;
    if (cell[right] == cell[square])
        list[n++] = right;
    if (above) {
        if (cell[square + up] == cell[square])
            list[n++] = square + up;
        if (diagonal[square] & 1)
            list[n++] = left + up;
        if (diagonal[right] & 2)
            list[n++] = right + up;
    }
    if (below) {
        if (cell[square + down] == cell[square])
            list[n++] = square + down;
        if (diagonal[right + down] & 1)
            list[n++] = right + down;
        if (diagonal[square + down] & 2)
            list[n++] = left + down;
    }
    return n;
}

static void flood(struct resize_pieces *pieces, int from)
{
    int label = label_new(pieces), n = 1, list[8];

    pieces->made[pieces->nmade++] = label;
    pieces->is_made[label] = 1;
    pieces->queue[0] = from;
    pieces->moved[pieces->nmoved] = from;
    pieces->moved_from[pieces->nmoved++] = pieces->label[from];
    pieces->label[from] = label;
    for (int i = 0; i < n; i++) {
        int near = neighbours(pieces, pieces->queue[i], list);

        square_add(pieces, label, pieces->queue[i]);
        for (int k = 0; k < near; k++) {
            if (pieces->label[list[k]] == label)
                continue;
            pieces->moved[pieces->nmoved] = list[k];
            pieces->moved_from[pieces->nmoved++] = pieces->label[list[k]];
            pieces->label[list[k]] = label;
            pieces->queue[n++] = list[k];
        }
    }
    owner_set(pieces, label);
    piece_counts(pieces, label, 1);
}

static void settle(struct resize_pieces *pieces)
{
    for (int i = 0; i < pieces->ndropped; i++)
        pieces->is_dropped[pieces->dropped[i]] = 0;
    for (int i = 0; i < pieces->nmade; i++)
        pieces->is_made[pieces->made[i]] = 0;
    pieces->ndropped = pieces->nmade = pieces->nmoved = 0;
}

/* parts was found for the chart as it is. */
void resize_pieces_set(struct resize_pieces *pieces)
{
    const struct resize_frame *frame = pieces->frame;
    int n = frame->ncells, npairs = 2 * frame->under_start[n * frame->ncolours];

    for (int i = 0; i < npairs; i++)
        pieces->pair_next[i] = i + 1;
    pieces->free_pair = 0;
    pieces->npairs_free = npairs;
    pieces->nfree = 0;
    for (int label = 2 * n - 1; label >= 0; label--)
        pieces->free_label[pieces->nfree++] = label;
    memset(pieces->owned, 0, (size_t)frame->nparts * sizeof(int));
    memset(pieces->touched, 0, (size_t)frame->nparts * sizeof(int));
    pieces->faults = (struct resize_faults){0};
    for (int part = 0; part < frame->nparts; part++)
        part_counts(pieces, part, 1);
    memset(pieces->label, -1, (size_t)n * sizeof(int));
    for (int i = 0; i < n; i++)
        if (pieces->label[i] < 0)
            flood(pieces, i);
    settle(pieces);
}

/* Every square within reach of one. */
static int around(const struct resize_frame *frame, int square, int *list)
{
    int n = 0, c = square % frame->ncols, r = square / frame->ncols;

    for (int up = -REACH; up <= REACH; up++) {
        int row = r + up;

        if (!frame->ring && (row < 0 || row >= frame->nrows))
            continue;
        row = (row + 2 * frame->nrows) % frame->nrows * frame->ncols;
        for (int side = -REACH; side <= REACH; side++)
            list[n++] = row + (c + side + 2 * frame->ncols) % frame->ncols;
    }
    return n;
}

int resize_pieces_change(struct resize_pieces *pieces, const int *changed, int nchanged,
                         struct resize_faults *faults)
{
    int list[(2 * REACH + 1) * (2 * REACH + 1)];

    for (int i = 0; i < nchanged; i++) {
        int n = around(pieces->frame, changed[i], list);

        for (int k = 0; k < n; k++) {
            int label = pieces->label[list[k]];

            if (pieces->is_dropped[label])
                continue;
            pieces->is_dropped[label] = 1;
            pieces->dropped[pieces->ndropped++] = label;
            piece_counts(pieces, label, -1);
        }
    }
    for (int i = 0; i < nchanged; i++) {
        int n = around(pieces->frame, changed[i], list);

        for (int k = 0; k < n; k++)
            if (!pieces->is_made[pieces->label[list[k]]])
                flood(pieces, list[k]);
    }
    faults->split = pieces->faults.split;
    faults->joined = pieces->faults.joined;
    faults->lost = pieces->faults.lost;
    faults->holes = pieces->faults.holes;
    return pieces->nmoved;
}

void resize_pieces_undo(struct resize_pieces *pieces)
{
    for (int i = 0; i < pieces->nmoved; i++)
        pieces->label[pieces->moved[i]] = pieces->moved_from[i];
    for (int i = 0; i < pieces->nmade; i++) {
        piece_counts(pieces, pieces->made[i], -1);
        label_free(pieces, pieces->made[i]);
    }
    for (int i = 0; i < pieces->ndropped; i++)
        piece_counts(pieces, pieces->dropped[i], 1);
    settle(pieces);
}

/* Changed squares that joined a piece, no piece made or gone: each by one it hangs together with.
 * Returned: false where one hangs together with none. */
static bool join_pieces(struct resize_pieces *pieces, const int *changed, int nchanged)
{
    int list[8], left = nchanged;
    bool more = true;

    for (int i = 0; i < nchanged; i++)
        pieces->label[changed[i]] = -1;
    while (more) {
        more = false;
        for (int i = 0; i < nchanged; i++) {
            int n = pieces->label[changed[i]] < 0 ? neighbours(pieces, changed[i], list) : 0;

            for (int k = 0; k < n && pieces->label[changed[i]] < 0; k++)
                if (pieces->label[list[k]] >= 0) {
                    pieces->label[changed[i]] = pieces->label[list[k]];
                    left--;
                    more = true;
                }
        }
    }
    return left == 0;
}

int resize_pieces_keep(struct resize_pieces *pieces, const int *changed, int nchanged)
{
    if (pieces->nmade == 0 && !join_pieces(pieces, changed, nchanged)) {
        resize_pieces_set(pieces); /* too far apart to be seen from one of them */
        return pieces->frame->ncells;
    }
    for (int i = 0; i < pieces->ndropped; i++)
        label_free(pieces, pieces->dropped[i]);
    settle(pieces);
    /* a change must find room for as many again: so it does, unless pieces were left over */
    if (pieces->nfree < pieces->frame->ncells ||
        pieces->npairs_free < pieces->frame->under_start[pieces->frame->ncells * pieces->frame->ncolours]) {
        resize_pieces_set(pieces);
        return pieces->frame->ncells;
    }
    return 0;
}
