/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What a new chart does to the lines, parts and floats of the old.
 *
 * A new part comes from the old part it covers most of. So every old part should be owned once:
 * owned more often it was split, owned never it was joined to another, or lost.
 */
#include <string.h>

#include "resize_internal.h"

struct resize_judge_room *resize_judge_room_make(const struct resize_frame *frame)
{
    struct arena *arena = frame->work->arena;
    struct resize_judge_room *room = arena_alloc(arena, 1, sizeof *room);
    size_t n = (size_t)frame->ncells, nunder = (size_t)frame->under_start[n * (size_t)frame->ncolours];

    room->parts = resize_parts_make(arena, frame->ncols, frame->nrows, frame->ring);
    room->runs = resize_runs_make(frame);
    room->owner = arena_alloc(arena, n, sizeof *room->owner);
    room->pair_head = arena_alloc(arena, n, sizeof *room->pair_head);
    room->pair_next = arena_alloc(arena, nunder, sizeof *room->pair_next);
    room->pair_part = arena_alloc(arena, nunder, sizeof *room->pair_part);
    room->pair_area = arena_alloc(arena, nunder, sizeof *room->pair_area);
    room->owned = arena_alloc(arena, (size_t)frame->nparts, sizeof *room->owned);
    room->touched = arena_alloc(arena, (size_t)frame->nparts, 1);
    return room;
}

static void pair_add(struct resize_judge_room *room, int part, const struct resize_under *under)
{
    int at;

    for (at = room->pair_head[part]; at >= 0; at = room->pair_next[at])
        if (room->pair_part[at] == under->part) {
            room->pair_area[at] += under->area;
            return;
        }
    at = room->npairs++;
    room->pair_part[at] = under->part;
    room->pair_area[at] = under->area;
    room->pair_next[at] = room->pair_head[part];
    room->pair_head[part] = at;
}

/* Which old part a new one comes from; ties to the first. */
static int owner_of(struct resize_judge_room *room, int part)
{
    int owner = -1;
    int64_t most = 0;

    for (int at = room->pair_head[part]; at >= 0; at = room->pair_next[at]) {
        room->touched[room->pair_part[at]] = 1;
        if (room->pair_area[at] > most ||
            (room->pair_area[at] == most && room->pair_part[at] < owner)) {
            most = room->pair_area[at];
            owner = room->pair_part[at];
        }
    }
    return owner;
}

void resize_parts_judge(const struct resize_frame *frame, struct resize_judge_room *room,
                        const uint8_t *cell, struct resize_faults *faults)
{
    const struct resize_parts *parts = &room->parts;

    resize_parts_find(&room->parts, cell);
    faults->split = faults->joined = faults->lost = faults->holes = 0;
    room->npairs = 0;
    memset(room->pair_head, -1, (size_t)parts->nparts * sizeof *room->pair_head);
    memset(room->owned, 0, (size_t)frame->nparts * sizeof *room->owned);
    memset(room->touched, 0, (size_t)frame->nparts);
    for (int i = 0; i < frame->ncells; i++) {
        int at = i * frame->ncolours + cell[i];

        for (int u = frame->under_start[at]; u < frame->under_start[at + 1]; u++)
            pair_add(room, parts->part[i], &frame->under[u]);
    }
    for (int part = 0; part < parts->nparts; part++) {
        int owner = owner_of(room, part);

        room->owner[part] = owner;
        if (owner < 0)
            faults->split++;
        else if (room->owned[owner]++ > 0)
            faults->split++;
    }
    for (int part = 0; part < frame->nparts; part++)
        if (room->owned[part] == 0) {
            faults->joined += room->touched[part];
            faults->lost += !room->touched[part];
            faults->holes += !room->touched[part] && frame->is_hole[part];
        }
}

int resize_row_faults(const struct resize_frame *frame, const uint8_t *cell, int row)
{
    int over[GRID_YARNS_MAX], faults = 0;

    resize_row_over(frame, cell + (size_t)row * (size_t)frame->ncols, frame->ncols,
                    frame->question->leave_sts, over);
    for (int k = 0; k < frame->ncolours; k++) {
        int more = over[k] - frame->allowed_over[row * frame->ncolours + k];

        faults += more > 0 ? more : 0;
    }
    return faults;
}

struct resize_faults resize_frame_judge(const struct resize_frame *frame, struct resize_judge_room *room,
                                        const uint8_t *cell)
{
    struct resize_faults faults = {0};

    resize_parts_judge(frame, room, cell, &faults);
    for (int i = 0; i < frame->nlinks_all; i++) /* the chart need not be symmetrical */
        faults.lines += !resize_line_holds(frame, &room->parts, cell, &frame->links[i]);
    for (int r = 0; r < frame->nrows; r++)
        faults.floats += resize_row_faults(frame, cell, r);
    resize_even_judge(frame, cell, &faults);
    faults.merged = resize_runs_judge(room->runs, cell);
    resize_own_judge(frame, cell, &faults);
    return faults;
}

int64_t resize_frame_area(const struct resize_frame *frame, const uint8_t *cell)
{
    int64_t area = 0;

    for (int i = 0; i < frame->ncells; i++)
        area += frame->cost[(size_t)i * (size_t)frame->ncolours + cell[i]];
    return area;
}

int resize_faults_of_drawing(const struct resize_faults *faults)
{
    return faults->lines + faults->split + faults->joined + faults->lost;
}

int64_t resize_faults_weight(const struct resize_faults *faults)
{
    return 4 * (int64_t)resize_faults_of_drawing(faults) - faults->holes + 2 * (int64_t)faults->floats;
}
