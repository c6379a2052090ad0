/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "diag.h"

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "arena.h"
#include "text.h"

enum {
    SEVERITIES = DIAG_ERROR + 1,
    KEPT_MAX = 1000,   /* of each severity; more are only counted */
    SLOT_COUNT = 8192, /* over twice what can be kept */
    SHOWN_MAX = 20,
    SCREEN_COLUMNS = 80,
    GUTTER_COLUMNS = 8, /* "   12 | " */
    INDENT = 3
};

struct entry {
    struct diag diag;
    int file; /* its file: how many others were mentioned before */
    int arrival;
    bool printed;
};

struct diagnostics {
    struct arena *arena;
    struct entry *entry;
    int nentries;
    int capacity;
    int *slot; /* SLOT_COUNT: 1 + index of an entry, by hash; 0 free */
    const struct source **file;
    int nfiles;
    int file_capacity;
    int count[SEVERITIES]; /* all that came, kept or not */
    int kept[SEVERITIES];
    int told[SEVERITIES]; /* of count: before the last diagnostics_say() */
    struct entry **order; /* NULL: not in order since the last arrival */
    struct diag *sorted;
};

static const struct {
    const char *text;
    enum diag_severity severity;
} codes[] = {
#define DIAG(name, text, severity, heading) {text, severity},
#include "diag_codes.h"
#undef DIAG
};

const char *diag_code_text(enum diag_code code)
{
    return codes[code].text;
}

enum diag_severity diag_code_severity(enum diag_code code)
{
    return codes[code].severity;
}

struct diagnostics *diagnostics_create(struct arena *arena)
{
    struct diagnostics *diagnostics = arena_alloc(arena, 1, sizeof *diagnostics);

    diagnostics->arena = arena;
    diagnostics->slot = arena_alloc(arena, SLOT_COUNT, sizeof *diagnostics->slot);
    return diagnostics;
}

/* --- collecting --------------------------------------------------------------------- */

static uint32_t hash_bytes(uint32_t hash, const void *bytes, size_t length)
{
    /* FNV-1a */
    for (const unsigned char *b = bytes; length > 0; length--, b++)
        hash = (hash ^ *b) * 16777619u;
    return hash;
}

static uint32_t hash_diag(const struct diag *diag, int file)
{
    const int numbers[] = {(int)diag->code, file, diag->at.line, diag->at.column};
    uint32_t hash = hash_bytes(2166136261u, numbers, sizeof numbers);

    hash = hash_bytes(hash, diag->what, strlen(diag->what));
    return hash ^ hash >> 16;
}

static bool same_words(const char *a, const char *b)
{
    return a && b ? strcmp(a, b) == 0 : a == b;
}

static bool same_diag(const struct entry *entry, const struct diag *diag, int file)
{
    return entry->file == file && entry->diag.code == diag->code &&
           entry->diag.at.line == diag->at.line && entry->diag.at.column == diag->at.column &&
           same_words(entry->diag.what, diag->what) && same_words(entry->diag.todo, diag->todo);
}

/* The slot that holds the like of diag, or the free one where it belongs. */
static int *find_slot(struct diagnostics *diagnostics, const struct diag *diag, int file)
{
    uint32_t at = hash_diag(diag, file) % SLOT_COUNT;

    while (diagnostics->slot[at] &&
           !same_diag(&diagnostics->entry[diagnostics->slot[at] - 1], diag, file))
        at = (at + 1) % SLOT_COUNT;
    return &diagnostics->slot[at];
}

/* A file read twice under one name is one file to her. */
static int file_number(struct diagnostics *diagnostics, const struct source *source)
{
    int n = diagnostics->nfiles;

    for (int i = n - 1; i >= 0; i--) {
        const struct source *file = diagnostics->file[i];

        if (file == source || (file && source && strcmp(file->name, source->name) == 0))
            return i;
    }
    if (n == diagnostics->file_capacity) {
        diagnostics->file_capacity = n ? 2 * n : 8;
        diagnostics->file = arena_grow(diagnostics->arena, diagnostics->file, (size_t)n,
                                       (size_t)diagnostics->file_capacity, sizeof(void *));
    }
    diagnostics->file[n] = source;
    diagnostics->nfiles = n + 1;
    return n;
}

static void keep(struct diagnostics *diagnostics, const struct diag *diag, int file)
{
    int n = diagnostics->nentries;

    if (n == diagnostics->capacity) {
        diagnostics->capacity = n ? 2 * n : 16;
        diagnostics->entry = arena_grow(diagnostics->arena, diagnostics->entry, (size_t)n,
                                        (size_t)diagnostics->capacity, sizeof *diagnostics->entry);
    }
    diagnostics->entry[n] = (struct entry){.diag = *diag, .file = file, .arrival = n};
    diagnostics->nentries = n + 1;
    diagnostics->order = NULL;
}

void diag_add(struct diagnostics *diagnostics, enum diag_code code, struct place at,
              const char *what, const char *todo)
{
    const struct diag diag = {code, at, what, todo};
    enum diag_severity severity = diag_code_severity(code);
    bool full = diagnostics->kept[severity] == KEPT_MAX;
    int file = 0;
    int *slot;

    if (!full)
        file = file_number(diagnostics, at.source);
    else
        while (file < diagnostics->nfiles && diagnostics->file[file] != at.source)
            file++;
    slot = find_slot(diagnostics, &diag, file);
    if (*slot)
        return;
    diagnostics->count[severity]++;
    if (full)
        return;
    diagnostics->kept[severity]++;
    keep(diagnostics, &diag, file);
    *slot = diagnostics->nentries;
}

int diagnostics_count(const struct diagnostics *diagnostics, enum diag_severity severity)
{
    return diagnostics->count[severity];
}

bool diagnostics_fatal(const struct diagnostics *diagnostics)
{
    return diagnostics->count[DIAG_ERROR] > 0;
}

/* --- putting in order --------------------------------------------------------------- */

static int compare_entries(const void *left, const void *right)
{
    const struct entry *a = *(const struct entry *const *)left;
    const struct entry *b = *(const struct entry *const *)right;
    const int differ[4][2] = {{a->file, b->file},
                              {a->diag.at.line, b->diag.at.line},
                              {a->diag.at.column, b->diag.at.column},
                              {a->arrival, b->arrival}};

    for (int i = 0; i < 4; i++)
        if (differ[i][0] != differ[i][1])
            return differ[i][0] < differ[i][1] ? -1 : 1;
    return 0;
}

static void put_in_order(struct diagnostics *diagnostics)
{
    size_t n = (size_t)diagnostics->nentries;

    if (diagnostics->order)
        return;
    diagnostics->order = arena_alloc(diagnostics->arena, n, sizeof(struct entry *));
    diagnostics->sorted = arena_alloc(diagnostics->arena, n, sizeof *diagnostics->sorted);
    for (size_t i = 0; i < n; i++)
        diagnostics->order[i] = &diagnostics->entry[i];
    qsort(diagnostics->order, n, sizeof(struct entry *), compare_entries);
    for (size_t i = 0; i < n; i++)
        diagnostics->sorted[i] = diagnostics->order[i]->diag;
}

const struct diag *diagnostics_sorted(struct diagnostics *diagnostics, int *count)
{
    put_in_order(diagnostics);
    *count = diagnostics->nentries;
    return diagnostics->sorted;
}

/* --- in words ----------------------------------------------------------------------- */

struct colours {
    const char *severity[SEVERITIES];
    const char *place;
    const char *plain;
};

static const struct colours no_colours = {{"", "", ""}, "", ""};
static const struct colours terminal_colours = {
    {"\033[36m", "\033[33m", "\033[31m"}, "\033[1m", "\033[0m"};

/* Append bytes without what could upset a terminal. One character stays one column, a tab too,
 * so that the carets fit. */
static void add_clean(struct text *text, const char *bytes, size_t length)
{
    for (size_t i = 0; i < length;) {
        uint32_t code = 0;
        size_t size = text_character(bytes + i, length - i, &code);

        if (code == '\t' || code == '\n')
            text_add(text, " ");
        else if (size == 0 || code < 0x20 || (code >= 0x7F && code < 0xA0))
            text_add(text, "?");
        else
            text_add_bytes(text, bytes + i, size);
        i += size ? size : 1;
    }
}

static const char *clean(struct arena *arena, const char *string)
{
    struct text text = text_create(arena);

    add_clean(&text, string, strlen(string));
    return text.bytes;
}

/* Bytes of the next character; a byte that begins none counts as one, as add_clean() shows it. */
static size_t step(const char *bytes, size_t length)
{
    size_t size = text_character(bytes, length, NULL);

    return size ? size : 1;
}

static int count_characters(const char *bytes, size_t length)
{
    int count = 0;

    for (size_t at = 0; at < length; at += step(bytes + at, length - at))
        count++;
    return count;
}

static size_t character_offset(const char *bytes, size_t length, int character)
{
    size_t at = 0;

    for (; at < length && character > 0; character--)
        at += step(bytes + at, length - at);
    return at;
}

/* The part of the line that is shown: characters first to last, of nchars. */
struct window {
    int first;
    int last;
    const char *head; /* "..." where it is cut */
    const char *tail;
};

static struct window choose_window(int nchars, int caret)
{
    enum { ROOM = SCREEN_COLUMNS - GUTTER_COLUMNS - 1, CUT = 3 }; /* 1: a caret behind the end */
    struct window window = {0, nchars, "", ""};

    if (nchars <= ROOM)
        return window;
    window.first = caret - ROOM / 2 > 0 ? caret - ROOM / 2 : 0;
    if (window.first > nchars - ROOM)
        window.first = nchars - ROOM;
    window.last = window.first + ROOM;
    if (window.first > 0) {
        window.head = "...";
        window.first += CUT;
    }
    if (window.last < nchars) {
        window.tail = "...";
        window.last -= CUT;
    }
    return window;
}

static void add_carets(struct text *text, struct place at, const struct window *window, int gutter,
                       const char *colour, const char *plain)
{
    int caret = at.column - 1;
    int width = at.width;

    if (caret > window->last)
        caret = window->last;
    if (width > window->last - caret)
        width = window->last - caret;
    if (width < 1)
        width = 1;
    text_repeat(text, ' ', gutter);
    text_add(text, "| ");
    text_repeat(text, ' ', (int)strlen(window->head) + caret - window->first);
    text_add(text, colour);
    text_repeat(text, '^', width);
    text_addf(text, "%s\n", plain);
}

static void add_excerpt(struct text *text, struct place at, const char *colour, const char *plain)
{
    size_t length, from, to;
    const char *line;
    struct window window;
    char number[24];

    if (!at.source || at.line < 1 || at.line > at.source->nlines)
        return;
    line = source_line(at.source, at.line, &length);
    while (length > 0 && (line[length - 1] == ' ' || line[length - 1] == '\t'))
        length--;
    window = choose_window(count_characters(line, length), at.column - 1);
    from = character_offset(line, length, window.first);
    to = character_offset(line, length, window.last);
    snprintf(number, sizeof number, "%5d ", at.line);
    text_addf(text, "%s|%s%s", number, to > from ? " " : "", window.head);
    add_clean(text, line + from, to - from);
    text_addf(text, "%s\n", window.tail);
    if (at.column >= 1)
        add_carets(text, at, &window, (int)strlen(number), colour, plain);
}

/* Append the prefix; returned: the columns it takes. */
static int add_prefix(struct text *text, const struct diag *diag, const struct colours *colours)
{
    static const char *const label[SEVERITIES] = {"Note: ", "Caution: ", ""};
    enum diag_severity severity = diag_code_severity(diag->code);
    struct text place = text_create(text->arena);

    if (diag->at.source) {
        text_addf(&place, "%s:", clean(text->arena, diag->at.source->name));
        if (diag->at.line > 0)
            text_addf(&place, "%d:", diag->at.line);
        if (diag->at.line > 0 && diag->at.column > 0)
            text_addf(&place, "%d:", diag->at.column);
        text_addf(text, "%s%s%s ", colours->place, place.bytes, colours->plain);
        text_add(&place, " ");
    }
    if (label[severity][0])
        text_addf(text, "%s%s%s", colours->severity[severity], label[severity], colours->plain);
    return text_columns(place.bytes) + (int)strlen(label[severity]);
}

static void add_diag(struct text *text, const struct diag *diag, const struct colours *colours)
{
    struct arena *arena = text->arena;
    const char *colour = colours->severity[diag_code_severity(diag->code)];
    const char *what = clean(arena, diag->what);
    const char *todo = diag->todo ? clean(arena, diag->todo) : NULL;
    int column = add_prefix(text, diag, colours);

    if (!todo)
        what = arena_printf(arena, "%s [%s]", what, diag_code_text(diag->code));
    text_wrap(text, what, column, INDENT, SCREEN_COLUMNS);
    text_add(text, "\n");
    add_excerpt(text, diag->at, colour, colours->plain);
    if (!todo)
        return;
    text_repeat(text, ' ', INDENT);
    text_wrap(text, arena_printf(arena, "%s [%s]", todo, diag_code_text(diag->code)), INDENT,
              INDENT, SCREEN_COLUMNS);
    text_add(text, "\n");
}

/* "35 things to put right (20 shown), 2 cautions." */
static void add_summary(struct text *text, const int came[SEVERITIES], const int shown[SEVERITIES])
{
    static const char *const one[SEVERITIES] = {"note", "caution", "thing to put right"};
    static const char *const many[SEVERITIES] = {"notes", "cautions", "things to put right"};
    const char *between = "";

    for (int severity = DIAG_ERROR; severity >= DIAG_NOTE; severity--) {
        if (came[severity] == 0)
            continue;
        text_addf(text, "%s%d %s", between, came[severity],
                  came[severity] == 1 ? one[severity] : many[severity]);
        if (shown[severity] < came[severity])
            text_addf(text, " (%d shown)", shown[severity]);
        between = ", ";
    }
    text_add(text, ".\n");
}

void diagnostics_say(struct diagnostics *diagnostics, bool colour, struct text *out)
{
    const struct colours *colours = colour ? &terminal_colours : &no_colours;
    int came[SEVERITIES], shown[SEVERITIES] = {0};
    int total = 0;

    for (int severity = 0; severity < SEVERITIES; severity++) {
        came[severity] = diagnostics->count[severity] - diagnostics->told[severity];
        diagnostics->told[severity] = diagnostics->count[severity];
        total += came[severity];
    }
    if (total == 0)
        return;
    put_in_order(diagnostics);
    for (int i = 0; i < diagnostics->nentries; i++) {
        struct entry *entry = diagnostics->order[i];
        enum diag_severity severity = diag_code_severity(entry->diag.code);
        int so_far =
            severity == DIAG_ERROR ? shown[DIAG_ERROR] : shown[DIAG_CAUTION] + shown[DIAG_NOTE];

        if (entry->printed)
            continue;
        entry->printed = true;
        if (so_far == SHOWN_MAX)
            continue;
        shown[severity]++;
        add_diag(out, &entry->diag, colours);
    }
    add_summary(out, came, shown);
}
