/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "best.h"

#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "base/work.h"
#include "best_internal.h"

/* Parts solved before, by what they look like. */
enum { BUCKETS = 4096 };

struct known_part {
    uint64_t hash;
    const struct part *part;
    const struct part_answer *answer;
    struct known_part *next;
};

struct memory {
    struct known_part **bucket; /* [BUCKETS] */
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
    for (struct known_part *one = memory->bucket[hash % BUCKETS]; one; one = one->next)
        if (one->hash == hash && same_part(one->part, part))
            return one->answer;
    return NULL;
}

static void remember(struct work *work, struct memory *memory, uint64_t hash, const struct part *part,
                     const struct part_answer *answer)
{
    struct known_part *one = arena_alloc(work->arena, 1, sizeof *one);

    *one = (struct known_part){hash, part, answer, memory->bucket[hash % BUCKETS]};
    memory->bucket[hash % BUCKETS] = one;
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
        .behind = grid_at(placing->grid, span->row, column),
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

/* The row-by-row placement of a part, scored. */
static struct part_answer read_quick(struct work *work, const struct placing *placing,
                                     const struct part *part, const struct catch_map *quick)
{
    struct part_answer answer = {.found = true};
    int places = 0, at = 0;

    for (int i = 0; i < part->nfloats; i++)
        places += part->floats[i].fewest + 1;
    answer.place = arena_alloc(work->arena, (size_t)places, sizeof *answer.place);
    for (int i = 0; i < part->nfloats; i++) {
        const struct best_float *span = &placing->cloth->floats[part->floats[i].whole];
        int n = span->span_sts, made = 0;

        for (int p = 1; p <= n; p++) { /* as the part is read: from the other end if mirrored */
            int position = part->mirrored ? n + 1 - p : p;

            if (stands_in(quick, span, position))
                answer.place[at + made++] = p;
        }
        at += span->fewest + 1;
    }
    best_score(work, placing->cloth->rules, part, &answer);
    return answer;
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

/* Where one repeat of a ring, repeated, is as good as the answer for the whole of it, that is taken:
 * the same motif, the same catches. The bounds are those of the whole. */
static void repeat_tile(struct work *work, const struct catch_rules *rules, const struct part *part,
                        struct part_answer *answer)
{
    int repeat = best_ring_repeat(work, part), at = 0;
    int *tile_float = arena_alloc(work->arena, (size_t)part->nfloats, sizeof *tile_float);
    int *start;
    struct part_answer one = {0}, nothing = {0};
    struct part tile;

    if (repeat == part->ncols)
        return;
    best_read_tile(work, part, repeat, &tile, tile_float);
    nothing.stacks = answer->stacks;
    nothing.spares = answer->spares;
    best_solve_part(work, rules, &tile, &nothing, &one);
    if (!one.found || best_compare(&one, answer, part->ncols / repeat) > 0)
        return;
    start = arena_alloc(work->arena, (size_t)tile.nfloats + 1, sizeof *start);
    for (int i = 0; i < tile.nfloats; i++)
        start[i + 1] = start[i] + tile.floats[i].fewest + 1;
    for (int i = 0; i < part->nfloats; i++) {
        int from = start[tile_float[i]];

        for (int j = 0; j <= part->floats[i].fewest; j++)
            answer->place[at++] = one.place[from + j];
    }
    best_score(work, rules, part, answer);
}

/* --- the whole ----------------------------------------------------------------------------------- */

static void note_proof(struct best_proof *proof, const struct part *part,
                       const struct part_answer *answer)
{
    proof->parts++;
    for (int i = 0; i < part->nfloats; i++)
        proof->catches += part->floats[i].fewest;
    proof->parts_proven += answer->proven;
    proof->stacks += answer->bound_stacks;
    proof->catches += answer->bound_spares;
    proof->near += answer->bound_near;
    proof->squares += answer->bound_squares;
    proof->placed_near += answer->near;
    proof->placed_squares += answer->squares;
}

/* As it was solved before, or afresh; aside: memory given back after the part. */
static const struct part_answer *solve_part(struct work *work, struct work *aside,
                                            const struct placing *placing,
                                            const struct catch_map *quick, struct memory *memory,
                                            const struct part *part)
{
    const struct catch_rules *rules = placing->cloth->rules;
    uint64_t hash = hash_part(part);
    const struct part_answer *answer = recall(memory, hash, part);
    struct part_answer *fresh, placed;
    size_t places = 0;

    if (answer)
        return answer;
    placed = read_quick(aside, placing, part, quick);
    fresh = arena_alloc(work->arena, 1, sizeof *fresh);
    best_solve_part(aside, rules, part, &placed, fresh);
    repeat_tile(aside, rules, part, fresh);
    for (int i = 0; i < part->nfloats; i++)
        places += (size_t)part->floats[i].fewest + 1;
    fresh->place = arena_grow(work->arena, fresh->place, places, places, sizeof *fresh->place);
    remember(work, memory, hash, best_keep_part(work, part), fresh);
    return fresh;
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
    memory.bucket = arena_alloc(work->arena, BUCKETS, sizeof(struct known_part *));
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
        struct arena *scratch = arena_branch(work->arena);
        struct work aside = *work;
        struct part part;
        const struct part_answer *answer;

        aside.arena = scratch;
        best_read_part(&aside, &cloth, member + start[p], count[p], &part);
        answer = solve_part(work, &aside, &placing, quick, &memory, &part);
        note_proof(proof, &part, answer);
        put_part(&placing, &part, answer);
        arena_destroy(scratch);
    }
    proof->proven = proof->parts == proof->parts_proven;
    return finish_map(work, &placing, rules);
}
