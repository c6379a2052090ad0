/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * One pool of memory for one run, freed once.
 *
 * Everything a run allocates (text of the files, model, plan, output) lies here and
 * is valid until arena_destroy(). Running out is not reported to callers: the arena
 * leaves what arena_run() runs, so that a formula never has to ask.
 */
#ifndef STRANDWISE_ARENA_H
#define STRANDWISE_ARENA_H

#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>

struct arena;

/* An empty arena that refuses to grow beyond limit_bytes. NULL: no memory at all. */
struct arena *arena_create(size_t limit_bytes);
void arena_destroy(struct arena *arena);

/* An arena for scratch work, to be destroyed early: it draws on its parent's limit (and gives
 * back when destroyed), escapes where its parent does, and goes with it at the latest. */
struct arena *arena_branch(struct arena *parent);

/* Run body(data), which is left where it stands when there is no more memory in the arena or its
 * branches. Returned: true: it ended; false: it was left. Notes: of two about each other the inner is left.
 * Out of memory with none about it is abort(). */
bool arena_run(struct arena *arena, void (*body)(void *data), void *data);

/* Leave it: for who finds that a library has no memory. */
_Noreturn void arena_leave(struct arena *arena);

/* count * size zeroed bytes, aligned for any object; never NULL. count 0 is allowed. */
void *arena_alloc(struct arena *arena, size_t count, size_t size);

/* A larger copy of an array of old_count elements (the rest zeroed). */
void *arena_grow(struct arena *arena, const void *old, size_t old_count, size_t new_count,
                 size_t size);

char *arena_strndup(struct arena *arena, const char *text, size_t length);
char *arena_strdup(struct arena *arena, const char *text);
char *arena_printf(struct arena *arena, const char *format, ...)
    __attribute__((format(printf, 2, 3)));
char *arena_vprintf(struct arena *arena, const char *format, va_list arguments)
    __attribute__((format(printf, 2, 0)));

/* Bytes handed out so far. */
size_t arena_used_bytes(const struct arena *arena);

#endif
