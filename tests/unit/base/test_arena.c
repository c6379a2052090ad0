/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Expected values: by definition (C11 alignment, the header's promises), nothing measured.
 */
#include <CUnit/CUnit.h>
#include <stdint.h>
#include <string.h>

#include "base/arena.h"

static int all_zero(const unsigned char *bytes, size_t length)
{
    for (size_t i = 0; i < length; i++)
        if (bytes[i])
            return 0;
    return 1;
}

/* 3,000 objects of mixed sizes, each filled with a byte of its own: if two overlapped, or one
 * were not zeroed, an earlier filling would show. */
static void objects_stand_apart(void)
{
    enum { OBJECTS = 3000 };
    static unsigned char *object[OBJECTS];
    struct arena *arena = arena_create((size_t)64 << 20);
    size_t asked = 0;
    int misaligned = 0, dirty = 0, spoilt = 0;

    for (size_t i = 0; i < OBJECTS; i++) {
        size_t size = i % 250 == 249 ? 40000 + i : 1 + i * 37 % 611;

        object[i] = arena_alloc(arena, size, 1);
        misaligned += (uintptr_t)object[i] % _Alignof(max_align_t) != 0;
        dirty += !all_zero(object[i], size);
        memset(object[i], (int)(1 + i % 251), size);
        asked += size;
    }
    for (size_t i = 0; i < OBJECTS; i++) {
        size_t size = i % 250 == 249 ? 40000 + i : 1 + i * 37 % 611;

        for (size_t b = 0; b < size; b++)
            spoilt += object[i][b] != 1 + i % 251;
    }
    CU_ASSERT_EQUAL(misaligned, 0);
    CU_ASSERT_EQUAL(dirty, 0);
    CU_ASSERT_EQUAL(spoilt, 0);
    CU_ASSERT(arena_used_bytes(arena) >= asked);
    CU_ASSERT(arena_used_bytes(arena) < asked + OBJECTS * _Alignof(max_align_t));
    arena_destroy(arena);
}

static void nothing_is_something(void)
{
    struct arena *arena = arena_create(4096);
    char *none = arena_alloc(arena, 0, 24);
    char *next = arena_alloc(arena, 0, 24);

    CU_ASSERT_PTR_NOT_NULL(none);
    CU_ASSERT_PTR_NOT_EQUAL(none, next);
    arena_destroy(arena);
    arena_destroy(NULL);
}

static void growing_keeps_the_old(void)
{
    struct arena *arena = arena_create((size_t)1 << 20);
    const int old[3] = {2385, 71, -9};
    const int *longer = arena_grow(arena, old, 3, 7, sizeof *old);
    const int *fresh = arena_grow(arena, NULL, 0, 5, sizeof *old);

    CU_ASSERT_EQUAL(memcmp(longer, old, sizeof old), 0);
    CU_ASSERT(all_zero((const unsigned char *)(longer + 3), 4 * sizeof *old));
    CU_ASSERT(all_zero((const unsigned char *)fresh, 5 * sizeof *old));
    arena_destroy(arena);
}

static void words_are_copied(void)
{
    struct arena *arena = arena_create((size_t)1 << 20);
    char changing[] = "two ply";
    char *whole = arena_strdup(arena, changing);
    char *part = arena_strndup(arena, changing, 3);
    char *empty = arena_strndup(arena, NULL, 0);
    char *printed = arena_printf(arena, "%d of %s, %.3f", 72, "them", 2.385);

    changing[0] = 'X';
    CU_ASSERT_STRING_EQUAL(whole, "two ply");
    CU_ASSERT_STRING_EQUAL(part, "two");
    CU_ASSERT_STRING_EQUAL(empty, "");
    CU_ASSERT_STRING_EQUAL(printed, "72 of them, 2.385");
    arena_destroy(arena);
}

/* What is asked of an arena within a run, and that the run went on behind it. */
struct asking {
    struct arena *arena;
    size_t count, size;
    int times, given;
};

static void ask(void *data)
{
    struct asking *asking = data;

    for (; asking->given < asking->times; asking->given++)
        arena_alloc(asking->arena, asking->count, asking->size);
}

/* Returned: 1 if asking for count * size left the run. */
static int escapes(struct arena *arena, size_t count, size_t size)
{
    struct asking asking = {arena, count, size, 1, 0};
    bool ended = arena_run(arena, ask, &asking);

    CU_ASSERT_EQUAL(asking.given, ended);
    return !ended;
}

static void the_limit_escapes(void)
{
    struct arena *arena = arena_create(100000);

    CU_ASSERT_EQUAL(escapes(arena, 900, 100), 0);
    CU_ASSERT_EQUAL(escapes(arena, 150, 100), 1);
    /* what fits is still given after that */
    CU_ASSERT_EQUAL(escapes(arena, 50, 100), 0);
    CU_ASSERT(arena_used_bytes(arena) <= 100000);
    arena_destroy(arena);
}

static void a_limit_is_reached_in_small_steps_too(void)
{
    struct arena *arena = arena_create(10000);
    struct asking asking = {arena, 1, 32, 1000000, 0};

    CU_ASSERT(!arena_run(arena, ask, &asking));
    CU_ASSERT_EQUAL(asking.given, 10000 / 32);
    arena_destroy(arena);
}

static void a_size_beyond_counting_escapes(void)
{
    struct arena *arena = arena_create(SIZE_MAX);

    /* the product of the first is 8 when only 64 bits of it are kept */
    CU_ASSERT_EQUAL(escapes(arena, SIZE_MAX / 8 + 2, 8), 1);
    CU_ASSERT_EQUAL(escapes(arena, SIZE_MAX, 1), 1);
    CU_ASSERT_EQUAL(escapes(arena, 1, SIZE_MAX - 20), 1);
    CU_ASSERT_EQUAL(escapes(arena, 7, 11), 0);
    arena_destroy(arena);
}

/* Returned: 1 if asking the branch for nbytes left the run of its root. */
static int branch_escapes(struct arena *root, struct arena *branch, size_t nbytes)
{
    struct asking asking = {branch, nbytes, 1, 1, 0};

    return !arena_run(root, ask, &asking);
}

/* A run within a run: the inner one is left, the outer goes on and may be left after it. */
static void run_within(void *data)
{
    struct asking *outer = data;
    struct asking inner = {outer->arena, 200000, 1, 1, 0};

    CU_ASSERT(!arena_run(outer->arena, ask, &inner));
    outer->given++;
    arena_alloc(outer->arena, 200000, 1);
    outer->given++;
}

static void the_inner_run_is_left(void)
{
    struct arena *arena = arena_create(100000);
    struct asking outer = {arena, 0, 0, 0, 0};

    CU_ASSERT(!arena_run(arena, run_within, &outer));
    CU_ASSERT_EQUAL(outer.given, 1);
    arena_destroy(arena);
}

static void a_branch_draws_on_its_parent(void)
{
    struct arena *root = arena_create(100000);
    struct arena *branch = arena_branch(root);
    struct arena *twig = arena_branch(branch);
    char *kept = arena_strdup(root, "kept");
    size_t before = arena_used_bytes(root);

    CU_ASSERT_EQUAL(branch_escapes(root, branch, 40000), 0);
    CU_ASSERT_EQUAL(branch_escapes(root, twig, 30000), 0);
    CU_ASSERT(arena_used_bytes(root) >= before + 70000);
    CU_ASSERT_EQUAL(branch_escapes(root, twig, 31000), 1);
    CU_ASSERT_EQUAL(branch_escapes(root, root, 31000), 1);
    arena_destroy(twig);
    CU_ASSERT_EQUAL(branch_escapes(root, branch, 31000), 0);
    arena_destroy(branch);
    CU_ASSERT_EQUAL(arena_used_bytes(root), before);
    CU_ASSERT_STRING_EQUAL(kept, "kept");
    /* those that are left go with the root; the sanitizers would tell of a leak */
    arena_branch(arena_branch(root));
    arena_branch(root);
    arena_destroy(root);
}

CU_TestInfo tests_arena[] = {
    {"objects are zeroed, aligned and apart", objects_stand_apart},
    {"count 0 gives a place of its own", nothing_is_something},
    {"growing keeps the old and zeroes the rest", growing_keeps_the_old},
    {"words are copied", words_are_copied},
    {"the limit leaves the run", the_limit_escapes},
    {"so does the limit reached in small steps", a_limit_is_reached_in_small_steps_too},
    {"and a size that cannot be counted", a_size_beyond_counting_escapes},
    {"of two runs the inner is left", the_inner_run_is_left},
    {"a branch draws on its parent and gives back", a_branch_draws_on_its_parent},
    CU_TEST_INFO_NULL,
};
