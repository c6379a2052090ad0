/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "best.h"

#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "base/work.h"
#include "best_internal.h"

/* A part solved before is looked up by what it looks like. */
struct memory {
    int count, room;
    struct {
        uint64_t hash;
        const struct part *part;
        const struct part_answer *answer;
    } *known;
};

static uint64_t mix(uint64_t hash, int64_t word)
{
    hash = (hash ^ (uint64_t)word) * 0x9e3779b97f4a7c15u;
    return hash ^ hash >> 31;
}

static uint64_t hash_part(const struct part *part)
{
    uint64_t hash = mix(mix(mix(1, part->nfloats), part->round_rows), part->round_columns);

    for (int i = 0; i < part->nfloats; i++) {
        const struct part_float *span = &part->floats[i];

        hash = mix(mix(mix(hash, span->row), span->span_sts), span->strand);
        for (int p = 1; p <= span->span_sts; p++)
            hash = mix(hash, span->column[p]);
    }
    return hash;
}

static bool same_part(const struct part *a, const struct part *b)
{
    if (a->nfloats != b->nfloats || a->round_rows != b->round_rows ||
        a->round_columns != b->round_columns)
        return false;
    for (int i = 0; i < a->nfloats; i++) {
        const struct part_float *x = &a->floats[i], *y = &b->floats[i];

        if (x->row != y->row || x->span_sts != y->span_sts || x->strand != y->strand ||
            memcmp(x->column + 1, y->column + 1, (size_t)x->span_sts * sizeof(int)) != 0)
            return false;
    }
    return true;
}

static const struct part_answer *recall(const struct memory *memory, uint64_t hash,
                                        const struct part *part)
{
    for (int i = 0; i < memory->count; i++)
        if (memory->known[i].hash == hash && same_part(memory->known[i].part, part))
            return memory->known[i].answer;
    return NULL;
}

static void remember(struct work *work, struct memory *memory, uint64_t hash, const struct part *part,
                     const struct part_answer *answer)
{
    if (memory->count == memory->room) {
        int room = memory->room ? 2 * memory->room : 64;

        memory->known = arena_grow(work->arena, memory->known, (size_t)memory->room, (size_t)room,
                                   sizeof *memory->known);
        memory->room = room;
    }
    memory->known[memory->count].hash = hash;
    memory->known[memory->count].part = part;
    memory->known[memory->count++].answer = answer;
}

/* --- marks ------------------------------------------------------------------------------------ */

struct placing {
    const struct grid *grid;
    const struct best_cloth *cloth;
    struct catch_mark *mark;
    int64_t nmarks;
    int64_t made_of[GRID_YARNS_MAX];
};

static void put_mark(struct placing *placing, const struct best_float *span, int position)
{
    int column = span->column[position];

    placing->mark[placing->nmarks++] = (struct catch_mark){
        .column = column,
        .row = (uint16_t)span->row,
        .strand = span->yarn,
        .behind = placing->grid->cell[(size_t)span->row * (size_t)placing->grid->ncols + (size_t)column],
    };
    placing->made_of[span->yarn]++;
}

static void put_part(struct placing *placing, const struct part *part, const struct part_answer *answer)
{
    int at = 0;

    for (int i = 0; i < part->nfloats; i++) {
        const struct best_float *span = &placing->cloth->floats[part->floats[i].whole];

        for (int j = 0; j <= span->fewest; j++, at++)
            if (answer->place[at] > 0)
                put_mark(placing, span,
                         part->mirrored ? span->span_sts + 1 - answer->place[at] : answer->place[at]);
    }
}

static int compare_marks(const void *a, const void *b)
{
    const struct catch_mark *x = a, *y = b;

    if (x->row != y->row)
        return x->row < y->row ? -1 : 1;
    if (x->column != y->column)
        return x->column < y->column ? -1 : 1;
    return (x->strand > y->strand) - (x->strand < y->strand);
}

/* Did the row-by-row placement catch this float behind its stitch p? */
static bool stands_in(const struct catch_map *quick, const struct best_float *span, int p)
{
    struct catch_mark key = {
        .column = span->column[p], .row = (uint16_t)span->row, .strand = span->yarn};

    return bsearch(&key, quick->mark, (size_t)quick->count, sizeof key, compare_marks) != NULL;
}

/* A part too large for its costs to be kept exactly stays as it was placed row by row. */
static void put_quick(struct placing *placing, const struct part *part, const struct catch_map *quick)
{
    for (int i = 0; i < part->nfloats; i++) {
        const struct best_float *span = &placing->cloth->floats[part->floats[i].whole];

        for (int p = 1; p <= span->span_sts; p++)
            if (stands_in(quick, span, p))
                put_mark(placing, span, p);
    }
}

struct stood {
    int row, column;
};

static int compare_stood(const void *a, const void *b)
{
    const struct stood *x = a, *y = b;

    if (x->column != y->column)
        return x->column < y->column ? -1 : 1;
    return (x->row > y->row) - (x->row < y->row);
}

/* What the row-by-row placement needed in a part: any stacks? any spares? */
static void judge_quick(struct work *work, const struct placing *placing, const struct part *part,
                        const struct catch_map *quick, bool again_above, bool *stacks, bool *spares)
{
    int n = 0, fewest = 0, room = 0, nrows = placing->cloth->nrows;
    struct stood *stood;

    for (int i = 0; i < part->nfloats; i++) {
        room += part->floats[i].fewest + 1;
        fewest += part->floats[i].fewest;
    }
    stood = arena_alloc(work->arena, (size_t)room, sizeof *stood);
    for (int i = 0; i < part->nfloats; i++) {
        const struct best_float *span = &placing->cloth->floats[part->floats[i].whole];

        for (int p = 1; p <= span->span_sts; p++)
            if (stands_in(quick, span, p))
                stood[n++] = (struct stood){span->row, span->column[p]};
    }
    qsort(stood, (size_t)n, sizeof *stood, compare_stood);
    *spares = n > fewest;
    *stacks = false;
    for (int i = 0, first = 0; i < n; i++) {
        if (stood[i].column != stood[first].column)
            first = i;
        if (i > first && stood[i].row - stood[i - 1].row <= 1)
            *stacks = true;
        if (again_above && stood[first].row == 0 && stood[i].row == nrows - 1)
            *stacks = true;
    }
}

static struct catch_map *finish_map(struct work *work, struct placing *placing,
                                    const struct catch_rules *rules)
{
    struct catch_map *map = arena_alloc(work->arena, 1, sizeof *map);

    qsort(placing->mark, (size_t)placing->nmarks, sizeof *placing->mark, compare_marks);
    map->mark = placing->mark;
    map->count = placing->nmarks;
    for (int yarn = 0; yarn < GRID_YARNS_MAX; yarn++) {
        map->count_of[yarn] = placing->made_of[yarn];
        map->spares_of[yarn] = placing->made_of[yarn];
    }
    for (int i = 0; i < placing->cloth->nfloats; i++)
        map->spares_of[placing->cloth->floats[i].yarn] -= placing->cloth->floats[i].fewest;
    catches_count_pairs(work, placing->grid, map->mark, map->count, rules->again_above, &map->stacked,
                        &map->doubled, &map->touching);
    return map;
}

/* --- a ring that repeats itself -------------------------------------------------------------- */

static int compare_answers(const struct part_answer *a, const struct part_answer *b, int times)
{
    const int64_t x[5] = {a->stacks, a->spares, a->near, a->ends, a->squares};
    const int64_t y[5] = {b->stacks, b->spares, b->near, b->ends, b->squares};

    for (int i = 0; i < 5; i++)
        if (times * x[i] != y[i])
            return times * x[i] < y[i] ? -1 : 1;
    return 0;
}

/* Where one repeat of a ring, repeated, is as good as the answer for the whole of it, that is taken:
 * the same motif, the same catches. The bounds are those of the whole. */
static void repeat_tile(struct work *work, const struct catch_rules *rules, const struct part *part,
                        bool no_stacks, bool no_spares, struct part_answer *answer)
{
    int repeat = best_ring_repeat(work, part), at = 0;
    int *tile_float = arena_alloc(work->arena, (size_t)part->nfloats, sizeof *tile_float);
    int *start;
    struct part_answer one = {0};
    struct part tile;

    if (repeat == part->ncols || !answer->place)
        return;
    best_read_tile(work, part, repeat, &tile, tile_float);
    best_solve_part(work, rules, &tile, no_stacks, no_spares, &one);
    if (!one.place || compare_answers(&one, answer, part->ncols / repeat) > 0)
        return;
    start = arena_alloc(work->arena, (size_t)tile.nfloats + 1, sizeof *start);
    for (int i = 0; i < tile.nfloats; i++)
        start[i + 1] = start[i] + tile.floats[i].fewest + 1;
    for (int i = 0; i < part->nfloats; i++) {
        int from = start[tile_float[i]];

        for (int j = 0; j <= part->floats[i].fewest; j++)
            answer->place[at++] = one.place[from + j];
    }
}

/* --- the whole ----------------------------------------------------------------------------------- */

static void note_proof(struct best_proof *proof, const struct part *part,
                       const struct part_answer *answer)
{
    proof->parts++;
    for (int i = 0; i < part->nfloats; i++)
        proof->catches += part->floats[i].fewest;
    if (!answer->place)
        return;
    proof->parts_proven += answer->proven;
    proof->stacks += answer->bound_stacks;
    proof->catches += answer->bound_spares;
    proof->near += answer->bound_near;
}

const struct catch_map *best_place(struct work *work, const struct grid *grid,
                                   const struct catch_rules *rules, const struct catch_map *quick,
                                   struct best_proof *proof)
{
    struct best_cloth cloth;
    struct memory memory = {0};
    struct placing placing = {.grid = grid, .cloth = &cloth};
    int nparts, places = 0;
    int *count, *start, *member;

    *proof = (struct best_proof){0};
    best_list_floats(work, grid, rules, &cloth);
    nparts = best_find_parts(work, &cloth);
    count = arena_alloc(work->arena, (size_t)nparts + 1, sizeof *count);
    start = arena_alloc(work->arena, (size_t)nparts + 1, sizeof *start);
    member = arena_alloc(work->arena, (size_t)cloth.nfloats, sizeof *member);
    for (int i = 0; i < cloth.nfloats; i++) {
        start[cloth.floats[i].part + 1]++;
        places += cloth.floats[i].fewest + 1;
    }
    for (int p = 0; p < nparts; p++)
        start[p + 1] += start[p];
    for (int i = 0; i < cloth.nfloats; i++) {
        int part = cloth.floats[i].part;

        member[start[part] + count[part]++] = i;
    }
    placing.mark = arena_alloc(work->arena, (size_t)places, sizeof *placing.mark);
    for (int p = 0; p < nparts; p++) {
        struct part *part = arena_alloc(work->arena, 1, sizeof *part);
        const struct part_answer *answer;
        uint64_t hash;

        best_read_part(work, &cloth, member + start[p], count[p], part);
        hash = hash_part(part);
        answer = recall(&memory, hash, part);
        if (!answer) {
            struct part_answer *fresh = arena_alloc(work->arena, 1, sizeof *fresh);
            bool stacks, spares;

            judge_quick(work, &placing, part, quick, rules->again_above, &stacks, &spares);
            best_solve_part(work, rules, part, !stacks, !spares, fresh);
            repeat_tile(work, rules, part, !stacks, !spares, fresh);
            remember(work, &memory, hash, part, fresh);
            answer = fresh;
        }
        note_proof(proof, part, answer);
        if (answer->place)
            put_part(&placing, part, answer);
        else
            put_quick(&placing, part, quick);
    }
    proof->proven = proof->parts == proof->parts_proven;
    return finish_map(work, &placing, rules);
}
