/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "arena.h"

#include <assert.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Nothing jumps in a web page: there a run that is out of memory traps, and whoever started it is told so. */
#if defined __wasm__
#define ARENA_JUMPS 0
#else
#define ARENA_JUMPS 1
#include <setjmp.h>
#endif

/* Under the address sanitizer every object is a chunk of its own, so that a write past its
 * end is seen; packed side by side it would only spoil its neighbour. */
#if defined __SANITIZE_ADDRESS__
#define ARENA_PACKED 0
#elif defined __has_feature
#if __has_feature(address_sanitizer)
#define ARENA_PACKED 0
#endif
#endif
#ifndef ARENA_PACKED
#define ARENA_PACKED 1
#endif

enum { CHUNK_BYTES = ARENA_PACKED ? 64 * 1024 : 0 };

struct chunk {
    struct chunk *next;
    size_t capacity;
    size_t used;
    max_align_t first[];
};

struct arena {
    struct chunk *chunks; /* the head is the one being filled */
    size_t used_bytes;    /* its branches' too */
    size_t limit_bytes;
#if ARENA_JUMPS
    jmp_buf *escape; /* out of the innermost arena_run(); NULL: none */
#endif
    struct arena *parent; /* of a branch */
    struct arena *branch; /* the newest of its own */
    struct arena *elder;  /* the branch made before this one, of the same parent */
};

struct arena *arena_create(size_t limit_bytes)
{
    struct arena *arena = calloc(1, sizeof *arena);

    if (arena)
        arena->limit_bytes = limit_bytes;
    return arena;
}

#if ARENA_JUMPS
/* A jump to nowhere would be worse than a plain end. */
void arena_leave(struct arena *arena)
{
    while (arena->parent)
        arena = arena->parent;
    if (!arena->escape)
        abort();
    longjmp(*arena->escape, 1);
}

bool arena_run(struct arena *arena, void (*body)(void *data), void *data)
{
    jmp_buf here, *volatile outer = arena->escape;

    arena->escape = &here;
    if (setjmp(here) != 0) {
        arena->escape = outer;
        return false;
    }
    body(data);
    arena->escape = outer;
    return true;
}
#else
void arena_leave(struct arena *arena)
{
    (void)arena;
    __builtin_trap();
}

bool arena_run(struct arena *arena, void (*body)(void *data), void *data)
{
    (void)arena;
    body(data);
    return true;
}
#endif

struct arena *arena_branch(struct arena *parent)
{
    struct arena *branch = arena_create(parent->limit_bytes - parent->used_bytes);

    if (!branch)
        arena_leave(parent);
    branch->parent = parent;
    branch->elder = parent->branch;
    parent->branch = branch;
    return branch;
}

static void forget_branch(struct arena *branch)
{
    struct arena **link = &branch->parent->branch;

    while (*link && *link != branch)
        link = &(*link)->elder;
    if (*link)
        *link = branch->elder;
}

void arena_destroy(struct arena *arena)
{
    struct chunk *next;

    if (!arena)
        return;
    while (arena->branch)
        arena_destroy(arena->branch);
    if (arena->parent)
        forget_branch(arena);
    for (struct arena *above = arena->parent; above; above = above->parent)
        above->used_bytes -= arena->used_bytes;
    for (struct chunk *chunk = arena->chunks; chunk; chunk = next) {
        next = chunk->next;
        free(chunk);
    }
    free(arena);
}

/* Large objects get a chunk of their own, behind the head, so that the rest of the chunk
 * being filled is not thrown away for them. */
static struct chunk *chunk_add(struct arena *arena, size_t nbytes)
{
    bool alone = nbytes > CHUNK_BYTES / 4;
    size_t capacity = alone ? nbytes : CHUNK_BYTES;
    struct chunk *chunk;

    if (capacity > SIZE_MAX - sizeof *chunk)
        arena_leave(arena);
    chunk = calloc(1, sizeof *chunk + capacity);
    if (!chunk)
        arena_leave(arena);
    chunk->capacity = capacity;
    if (alone && arena->chunks) {
        chunk->next = arena->chunks->next;
        arena->chunks->next = chunk;
    } else {
        chunk->next = arena->chunks;
        arena->chunks = chunk;
    }
    return chunk;
}

void *arena_alloc(struct arena *arena, size_t count, size_t size)
{
    const size_t step = _Alignof(max_align_t);
    struct chunk *chunk = arena->chunks;
    size_t nbytes;
    char *object;

    if (size && count > (SIZE_MAX - step) / size)
        arena_leave(arena);
    nbytes = count * size;
    if (nbytes == 0)
        nbytes = 1;
    if (ARENA_PACKED)
        nbytes = (nbytes + step - 1) / step * step;
    for (struct arena *payer = arena; payer; payer = payer->parent)
        if (nbytes > payer->limit_bytes - payer->used_bytes)
            arena_leave(arena);
    if (!chunk || nbytes > chunk->capacity - chunk->used)
        chunk = chunk_add(arena, nbytes);
    object = (char *)chunk->first + chunk->used;
    chunk->used += nbytes;
    for (struct arena *payer = arena; payer; payer = payer->parent)
        payer->used_bytes += nbytes;
    return object;
}

void *arena_grow(struct arena *arena, const void *old, size_t old_count, size_t new_count,
                 size_t size)
{
    void *copy = arena_alloc(arena, new_count, size);
    size_t kept = old_count < new_count ? old_count : new_count;

    if (old && kept)
        memcpy(copy, old, kept * size);
    return copy;
}

char *arena_strndup(struct arena *arena, const char *text, size_t length)
{
    char *copy;

    if (length == SIZE_MAX)
        arena_leave(arena);
    copy = arena_alloc(arena, length + 1, 1);
    if (length)
        memcpy(copy, text, length);
    return copy;
}

char *arena_strdup(struct arena *arena, const char *text)
{
    return arena_strndup(arena, text, strlen(text));
}

char *arena_printf(struct arena *arena, const char *format, ...)
{
    va_list arguments;
    char *printed;

    va_start(arguments, format);
    printed = arena_vprintf(arena, format, arguments);
    va_end(arguments);
    return printed;
}

char *arena_vprintf(struct arena *arena, const char *format, va_list arguments)
{
    va_list again;
    int length;
    char *printed;

    va_copy(again, arguments);
    assert(format);
    length = vsnprintf(NULL, 0, format, again);
    va_end(again);
    if (length < 0)
        arena_leave(arena);
    printed = arena_alloc(arena, (size_t)length + 1, 1);
    vsnprintf(printed, (size_t)length + 1, format, arguments);
    return printed;
}

size_t arena_used_bytes(const struct arena *arena)
{
    return arena->used_bytes;
}
