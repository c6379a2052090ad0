/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Where in the old chart something could not be kept, and what is too crowded there.
 */
#include "resize_internal.h"

static void hurt_square(const struct resize_frame *frame, int old_cell, uint8_t *rows, uint8_t *columns)
{
    rows[old_cell / frame->old.ncols] = 1;
    columns[old_cell % frame->old.ncols] = 1;
}

/* Everything old of this colour under a new square. */
static void hurt_under(const struct resize_frame *frame, int cell, uint8_t colour, uint8_t *rows,
                       uint8_t *columns)
{
    int c = cell % frame->ncols, r = cell / frame->ncols;

    for (int i = 0; i < frame->y.count[r]; i++)
        for (int j = 0; j < frame->x.count[c]; j++) {
            int at = (frame->y.first[r] + i) % frame->old.nrows * frame->old.ncols +
                     (frame->x.first[c] + j) % frame->old.ncols;

            if (frame->old.cell[at] == colour)
                hurt_square(frame, at, rows, columns);
        }
}

/* Of the pieces of one old part all but the largest came off. */
static void hurt_pieces(const struct resize_frame *frame, const struct resize_judge_room *room,
                        const uint8_t *cell, uint8_t *rows, uint8_t *columns)
{
    struct arena *arena = frame->work->arena;
    int *size = arena_alloc(arena, (size_t)frame->ncells, sizeof *size);
    int *largest = arena_alloc(arena, (size_t)frame->nparts, sizeof *largest); /* piece + 1 */

    for (int i = 0; i < frame->ncells; i++)
        size[room->parts.part[i]]++;
    for (int piece = 0; piece < room->parts.nparts; piece++) {
        int owner = room->owner[piece];

        if (owner >= 0 && (largest[owner] == 0 || size[piece] > size[largest[owner] - 1]))
            largest[owner] = piece + 1;
    }
    for (int i = 0; i < frame->ncells; i++) {
        int piece = room->parts.part[i], owner = room->owner[piece];

        if (owner >= 0 && largest[owner] != piece + 1)
            hurt_under(frame, i, cell[i], rows, columns);
    }
}

void resize_hurt_find(const struct resize_frame *frame, const struct resize_judge_room *room,
                      const uint8_t *cell, uint8_t *rows, uint8_t *columns)
{
    int nold = frame->old.ncols * frame->old.nrows;

    for (int i = 0; i < frame->nlinks_all; i++) {
        const struct resize_link *link = &frame->links[i];

        if (resize_line_holds(frame, &room->parts, cell, link))
            continue;
        hurt_square(frame, link->a_row * frame->old.ncols + link->a_col, rows, columns);
        hurt_square(frame, link->b_row * frame->old.ncols + link->b_col, rows, columns);
    }
    for (int i = 0; i < nold; i++)
        if (room->owned[frame->old_part[i]] == 0)
            hurt_square(frame, i, rows, columns);
    hurt_pieces(frame, room, cell, rows, columns);
}

/* --- too crowded ------------------------------------------------------------------------------ */

/* New squares that lie over old ones from .. from + length, if only in part. */
static int room_over(const struct motif_line *line, int nold, int from, int length)
{
    int64_t start = 2 * (int64_t)line->count * from + line->phase;
    int64_t end = start + 2 * (int64_t)line->count * length, wide = 2 * (int64_t)nold;
    int64_t first = start >= 0 ? start / wide : -((-start + wide - 1) / wide);
    int64_t last = end >= 0 ? (end + wide - 1) / wide : -(-end / wide);

    return last - first < line->count ? (int)(last - first) : line->count;
}

static uint8_t strip_at(const struct grid *old, bool along, int number, int i)
{
    return along ? old->cell[number * old->ncols + i % old->ncols]
                 : old->cell[i % old->nrows * old->ncols + number];
}

struct resize_crowd resize_crowd_find(const struct grid *old, const struct motif_line *line, bool along,
                                      bool ring, int number)
{
    struct resize_crowd worst = {0, 0, 0, 0};
    int n = along ? old->ncols : old->nrows;

    for (int from = 0; from < n; from++) {
        int runs = 1, most = ring ? n : n - from;

        for (int length = 1; length <= most; length++) {
            int room, lack = worst.runs - worst.room;

            if (length > 1 && strip_at(old, along, number, from + length - 1) !=
                                  strip_at(old, along, number, from + length - 2))
                runs++;
            room = room_over(line, n, from, length);
            if (length == n && ring && runs > 1 &&
                strip_at(old, along, number, from) == strip_at(old, along, number, from + n - 1))
                continue; /* first and last are one run */
            if (runs - room > lack || (runs - room == lack && lack > 0 && length < worst.length))
                worst = (struct resize_crowd){from, length, runs, room};
        }
    }
    return worst;
}
