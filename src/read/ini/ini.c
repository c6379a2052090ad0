/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ini.h"

#include <string.h>

#if defined __has_include
#if __has_include(<iniparser/iniparser.h>)
#include <iniparser/iniparser.h>
#else
#include <iniparser.h>
#endif
#else
#include <iniparser.h>
#endif

#include "base/arena.h"
#include "base/diag.h"
#include "base/work.h"

enum { NO_SECTION = -1, SKIPPED_SECTION = -2 };

struct scanner {
    struct work *work;
    const struct source *source;
    struct ini_section *sections;
    struct ini_entry *entries;
    int nsections, nentries;
    int section;       /* the one we are in, or NO_SECTION, SKIPPED_SECTION */
    bool outside_said; /* "before any section": once is enough */
    bool full;         /* no more is taken, and that was said */
    int faults;
    int line;
    char *bytes; /* of the line, our own copy */
    size_t length;
};

/* Part of a line. */
struct span {
    size_t from, to;
};

/* --- characters and places ---------------------------------------------------------- */

static bool is_blank(char c)
{
    return c == ' ' || c == '\t';
}

static char lower(char c)
{
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

static int characters(const char *bytes, size_t length)
{
    int n = 0;

    for (size_t i = 0; i < length; i++)
        n += ((unsigned char)bytes[i] & 0xC0) != 0x80;
    return n;
}

static struct place place_of(const struct scanner *s, struct span span)
{
    size_t from = span.from < s->length ? span.from : s->length;
    size_t to = span.to < s->length ? span.to : s->length;
    int width = to > from ? characters(s->bytes + from, to - from) : 1;

    return (struct place){.source = s->source,
                          .line = s->line,
                          .column = 1 + characters(s->bytes, from),
                          .width = width > 0 ? width : 1};
}

struct place ini_value_place(const struct ini_entry *entry, size_t offset, size_t length)
{
    struct place at = entry->at;
    size_t whole = entry->value ? strlen(entry->value) : 0;

    offset = offset < whole ? offset : whole;
    length = length < whole - offset ? length : whole - offset;
    at.column += entry->value ? characters(entry->value, offset) : 0;
    at.width = length > 0 ? characters(entry->value + offset, length) : 1;
    at.width = at.width > 0 ? at.width : 1;
    return at;
}

static void fault(struct scanner *s, enum diag_code code, struct span span, const char *what,
                  const char *todo)
{
    s->faults++;
    diag_add(s->work->diagnostics, code, place_of(s, span), what, todo);
}

static struct span trimmed(const char *bytes, struct span span)
{
    while (span.from < span.to && is_blank(bytes[span.from]))
        span.from++;
    while (span.from < span.to && is_blank(bytes[span.to - 1]))
        span.to--;
    return span;
}

static const char *copied(struct scanner *s, struct span span)
{
    return arena_strndup(s->work->arena, s->bytes + span.from, span.to - span.from);
}

/* White space collapsed, letters made small on request. */
static const char *collapsed(struct scanner *s, struct span span, bool small)
{
    char *text = arena_alloc(s->work->arena, span.to - span.from + 1, 1);
    size_t n = 0;

    span = trimmed(s->bytes, span);
    for (size_t i = span.from; i < span.to; i++) {
        if (is_blank(s->bytes[i]) && is_blank(s->bytes[i - 1]))
            continue;
        text[n++] = is_blank(s->bytes[i]) ? ' ' : small ? lower(s->bytes[i]) : s->bytes[i];
    }
    return text;
}

/* A comment starts at byte i of unquoted text. */
static bool comment_at(const struct scanner *s, size_t i)
{
    bool blank_before = i == 0 || is_blank(s->bytes[i - 1]);
    bool blank_after = i + 1 >= s->length || is_blank(s->bytes[i + 1]);

    return blank_before && (s->bytes[i] == ';' || (s->bytes[i] == '#' && blank_after));
}

/* From byte i on there is only white space, or a comment. */
static bool only_comment_from(const struct scanner *s, size_t i)
{
    while (i < s->length && is_blank(s->bytes[i]))
        i++;
    return i == s->length || s->bytes[i] == ';' || s->bytes[i] == '#';
}

static struct span rest_from(const struct scanner *s, size_t from)
{
    return trimmed(s->bytes, (struct span){from, s->length});
}

/* --- sections ----------------------------------------------------------------------- */

/* Characters of a name that would make another line ambiguous: the first is reported, and all
 * are read as spaces, so that nothing else about this section needs to be said. */
static void mend_head(struct scanner *s, struct span inside)
{
    bool said = false;

    for (size_t i = inside.from; i < inside.to; i++) {
        char c = s->bytes[i];

        if (!strchr("[:\",;#=%\\|", c))
            continue;
        if (!said)
            fault(s, DIAG_SECTION_NAME, (struct span){i, i + 1},
                  arena_printf(s->work->arena, "A section's name cannot have %c in it.", c),
                  c == ':' ? "Write a space there, like this: [yarn cream]."
                           : "Use letters, digits, spaces, points and hyphens.");
        said = true;
        s->bytes[i] = ' ';
    }
}

static int section_find(const struct scanner *s, const char *head)
{
    for (int i = 0; i < s->nsections; i++)
        if (strcmp(s->sections[i].head, head) == 0)
            return i;
    return NO_SECTION;
}

static void section_add(struct scanner *s, struct span inside)
{
    const char *head = collapsed(s, inside, true);
    int same = section_find(s, head);
    struct ini_section *section;

    if (head[0] == '\0') { /* nothing but refused characters */
        s->section = SKIPPED_SECTION;
        return;
    }
    if (same >= 0) {
        fault(s, DIAG_SECTION_TWICE, inside,
              arena_printf(s->work->arena, "[%s] was already given on line %d.",
                           collapsed(s, inside, false), s->sections[same].at.line),
              "Put its lines together under one heading, or give this one another name.");
        s->section = same;
        return;
    }
    if (s->nsections == INI_SECTIONS_MAX) {
        fault(s, DIAG_FILE_SIZE, inside, "There are more sections than any project needs.",
              "Leave out what is not for this piece.");
        s->full = true;
        s->section = SKIPPED_SECTION;
        return;
    }
    section = &s->sections[s->nsections];
    section->head = head;
    section->typed = collapsed(s, inside, false);
    section->at = place_of(s, inside);
    s->section = s->nsections++;
}

static void scan_section(struct scanner *s, size_t open)
{
    const char *close = memchr(s->bytes + open, ']', s->length - open);
    struct span inside;

    s->section = SKIPPED_SECTION;
    if (!close) {
        fault(s, DIAG_LINE_SHAPE, rest_from(s, open), "This heading has no closing bracket.",
              "Close it, like this: [band ripple].");
        return;
    }
    inside = trimmed(s->bytes, (struct span){open + 1, (size_t)(close - s->bytes)});
    if (inside.from == inside.to) {
        fault(s, DIAG_LINE_SHAPE, (struct span){open, inside.to + 1},
              "There is nothing between the brackets.",
              "Name the section, like this: [band ripple].");
        return;
    }
    if (inside.to - inside.from > INI_HEAD_BYTES_MAX) {
        fault(s, DIAG_SECTION_NAME, inside, "This name is too long.",
              arena_printf(s->work->arena, "Use %d letters or fewer.", (int)INI_HEAD_BYTES_MAX));
        return;
    }
    mend_head(s, inside);
    section_add(s, inside);
    if (!only_comment_from(s, (size_t)(close - s->bytes) + 1))
        fault(s, DIAG_LINE_SHAPE, rest_from(s, (size_t)(close - s->bytes) + 1),
              "Something stands behind the heading.",
              "Put it on a line of its own, or a ; before it if it is a remark.");
}

/* --- values ------------------------------------------------------------------------- */

static void fault_empty(struct scanner *s, struct span key, size_t equals)
{
    struct span at = {equals, equals + 1};
    const char *name = collapsed(s, key, false);
    bool remark = rest_from(s, equals + 1).from < s->length;

    fault(s, DIAG_VALUE_EMPTY, at,
          arena_printf(s->work->arena, "Nothing stands after \"%s =\"%s.", name,
                       remark ? " (a ; starts a remark)" : ""),
          "Write a value there, or leave the line out.");
}

/* "..." or '...' from byte open. True: value is inside; false: reported. */
static bool scan_quoted(struct scanner *s, size_t open, struct span *value)
{
    const char *close = memchr(s->bytes + open + 1, s->bytes[open], s->length - open - 1);

    if (!close) {
        fault(s, DIAG_QUOTE, rest_from(s, open), "This quote is not closed on its line.",
              "Put another \" at its end; for a quote mark itself write '\"'.");
        return false;
    }
    *value = (struct span){open + 1, (size_t)(close - s->bytes)};
    if (only_comment_from(s, value->to + 1))
        return true;
    fault(s, DIAG_QUOTE, rest_from(s, value->to + 1), "Something stands behind the closing quote.",
          "Put all of it between the quotes, or a ; before a remark.");
    return false;
}

/* '...' counts as quotes only if a closing one ends the value: 'Tis is a word. */
static bool is_single_quoted(const struct scanner *s, size_t open)
{
    const char *close;

    if (s->bytes[open] != '\'')
        return false;
    close = memchr(s->bytes + open + 1, '\'', s->length - open - 1);
    return close && only_comment_from(s, (size_t)(close - s->bytes) + 1);
}

/* A value that begins with #: a mark, or a shade. */
static bool scan_hash(struct scanner *s, size_t from, struct span *value)
{
    size_t to = from + 1;

    while (to < s->length && !is_blank(s->bytes[to]))
        to++;
    *value = (struct span){from, to};
    for (size_t i = from + 1; i < to; i++) {
        char c = lower(s->bytes[i]);

        if (!((c >= '0' && c <= '9') || (c >= 'a' && c <= 'z')))
            to = 0;
    }
    if (to && only_comment_from(s, value->to))
        return true;
    fault(s, DIAG_QUOTE, rest_from(s, from), "A # here may be meant as a remark or as a value.",
          "Put the value in double quotes; a remark goes behind a ; mark.");
    return false;
}

static bool scan_bare(struct scanner *s, size_t from, struct span *value)
{
    size_t to = from;

    for (; to < s->length && !comment_at(s, to); to++) {
        if (s->bytes[to] != ';' && s->bytes[to] != '#')
            continue;
        fault(s, DIAG_QUOTE, (struct span){to, to + 1},
              arena_printf(s->work->arena,
                           "It is not clear whether this %c belongs to the value or starts a "
                           "remark.",
                           s->bytes[to]),
              "Put the value in double quotes, or a space on both sides of the mark.");
        return false;
    }
    *value = trimmed(s->bytes, (struct span){from, to});
    return true;
}

static bool has(const struct scanner *s, struct span span, char c)
{
    return memchr(s->bytes + span.from, c, span.to - span.from) != NULL;
}

/* What other readers of such files would take in another way. */
static bool value_can_be_kept(struct scanner *s, struct span value)
{
    const char *slash = memchr(s->bytes + value.from, '\\', value.to - value.from);
    size_t at = slash ? (size_t)(slash - s->bytes) : 0;

    if (slash) {
        bool last = rest_from(s, at).to == at + 1;

        fault(s, DIAG_QUOTE, (struct span){at, at + 1},
              last ? "A value cannot go on in the next line." : "A \\ cannot stand in a value.",
              last ? "Write it all on one line, without the \\."
                   : "Leave it out; in a file's name write / instead.");
        return false;
    }
    if (s->bytes[value.from] == '\'' && has(s, value, '\'') && has(s, value, '"')) {
        fault(s, DIAG_QUOTE, value,
              "This value begins with one kind of quote and has the other too.",
              "Use one kind only.");
        return false;
    }
    return true;
}

/* The value behind byte equals. True: *value is not empty. False: reported. */
static bool scan_value(struct scanner *s, struct span key, size_t equals, struct span *value)
{
    struct span rest = rest_from(s, equals + 1);
    bool fine;

    if (rest.from == rest.to || s->bytes[rest.from] == ';') {
        fault_empty(s, key, equals);
        return false;
    }
    if (s->bytes[rest.from] == '"' || is_single_quoted(s, rest.from))
        fine = scan_quoted(s, rest.from, value);
    else if (s->bytes[rest.from] == '#')
        fine = scan_hash(s, rest.from, value);
    else
        fine = scan_bare(s, rest.from, value);
    if (!fine)
        return false;
    if (value->from == value->to) {
        fault_empty(s, key, equals);
        return false;
    }
    return value_can_be_kept(s, *value);
}

/* --- lines -------------------------------------------------------------------------- */

static const struct ini_entry *entry_find(const struct scanner *s, const char *key)
{
    for (int i = 0; i < s->nentries; i++)
        if (s->entries[i].section == s->section && strcmp(s->entries[i].key, key) == 0)
            return &s->entries[i];
    return NULL;
}

/* A key that may be added here, or NULL after reporting (or quietly, in a skipped section). */
static const char *scan_key(struct scanner *s, struct span key)
{
    const char *name = collapsed(s, key, true);
    const struct ini_entry *same;

    if (s->section == SKIPPED_SECTION)
        return NULL;
    if (s->section == NO_SECTION) {
        if (!s->outside_said)
            fault(s, DIAG_KEY_OUTSIDE, key,
                  arena_printf(s->work->arena, "\"%s\" stands before any section.", name),
                  "Put a heading above it, like [project] or [swatch].");
        s->outside_said = true;
        return NULL;
    }
    same = entry_find(s, name);
    if (same) {
        fault(s, DIAG_KEY_TWICE, key,
              arena_printf(s->work->arena, "\"%s\" was already given on line %d.", name,
                           same->key_at.line),
              "Keep one of the two.");
        return NULL;
    }
    if (s->nentries < INI_ENTRIES_MAX)
        return name;
    fault(s, DIAG_FILE_SIZE, key, "There are more lines than any project needs.",
          "Leave out what is not for this piece.");
    s->full = true;
    return NULL;
}

static void fault_no_equals(struct scanner *s)
{
    struct span line = rest_from(s, 0);
    bool colon = has(s, line, ':');

    for (size_t i = line.from; i < line.to; i++)
        if (comment_at(s, i))
            line.to = i;
    fault(s, DIAG_LINE_SHAPE, trimmed(s->bytes, line),
          "This line is neither a [heading] nor a key with its value.",
          colon ? "Write an equals sign in place of the colon, like this: over = 4 in."
                : "Write it like this: over = 4 in. A remark starts with ;.");
}

static bool key_is_well_formed(struct scanner *s, struct span key, size_t equals)
{
    if (key.from == key.to) {
        fault(s, DIAG_LINE_SHAPE, (struct span){equals, equals + 1},
              "Nothing stands before the equals sign.", "Write it like this: over = 4 in.");
        return false;
    }
    for (size_t i = key.from; i < key.to; i++) {
        if (!strchr("\"'[]:;#\\", s->bytes[i]))
            continue;
        fault(s, DIAG_LINE_SHAPE, (struct span){i, i + 1},
              arena_printf(s->work->arena, "A key cannot have %c in it.", s->bytes[i]),
              "Write it like this: over = 4 in.");
        return false;
    }
    if (key.to - key.from > INI_KEY_BYTES_MAX) {
        fault(s, DIAG_LINE_SHAPE, key, "What stands before the equals sign is too long for a key.",
              "Write it like this: over = 4 in. A remark starts with ;.");
        return false;
    }
    return true;
}

static void scan_entry(struct scanner *s, size_t from)
{
    struct span key = {from, from}, value = {0, 0};
    struct ini_entry *entry;
    const char *name;
    size_t equals = from;

    while (equals < s->length && s->bytes[equals] != '=' && !comment_at(s, equals))
        equals++;
    if (equals == s->length || s->bytes[equals] != '=') {
        if (s->section != SKIPPED_SECTION)
            fault_no_equals(s);
        return;
    }
    key = trimmed(s->bytes, (struct span){from, equals});
    if (!key_is_well_formed(s, key, equals))
        return;
    name = scan_key(s, key);
    if (!name)
        return;
    entry = &s->entries[s->nentries++];
    entry->section = s->section;
    entry->key = name;
    entry->key_at = place_of(s, key);
    entry->at = place_of(s, (struct span){equals, equals + 1});
    if (!scan_value(s, key, equals, &value))
        return;
    entry->value = copied(s, value);
    entry->at = place_of(s, value);
}

/* A non-breaking space becomes a space: as many characters as before, so columns hold. */
static void take_line(struct scanner *s, const char *bytes, size_t length)
{
    char *line = arena_alloc(s->work->arena, length + 1, 1);
    size_t n = 0;

    for (size_t i = 0; i < length; i++) {
        bool nbsp = i + 1 < length && (unsigned char)bytes[i] == 0xC2 &&
                    (unsigned char)bytes[i + 1] == 0xA0;

        line[n++] = nbsp ? ' ' : bytes[i];
        i += nbsp;
    }
    s->bytes = line;
    s->length = n;
}

static void scan_line(struct scanner *s)
{
    size_t length, from = 0;
    const char *bytes = source_line(s->source, s->line, &length);

    if (length > INI_LINE_BYTES_MAX) {
        take_line(s, bytes, length);
        fault(s, DIAG_LINE_LENGTH, (struct span){INI_LINE_BYTES_MAX, INI_LINE_BYTES_MAX + 1},
              arena_printf(s->work->arena, "This line is longer than %d letters.",
                           (int)INI_LINE_BYTES_MAX),
              "Shorten it, or its remark.");
        return;
    }
    take_line(s, bytes, length);
    while (from < s->length && is_blank(s->bytes[from]))
        from++;
    if (from == s->length || s->bytes[from] == ';' || s->bytes[from] == '#')
        return;
    if (s->bytes[from] == '[')
        scan_section(s, from);
    else
        scan_entry(s, from);
}

/* --- iniparser's dictionary ------------------------------------------------------------ */

/* One value by its name, into room for what was scanned. false: it is not there. */
static bool value_take(const dictionary *dictionary, const char *name, char *room, size_t nbytes)
{
    const char *value = iniparser_getstring(dictionary, name, NULL);

    if (!value || strlen(value) + 1 != nbytes)
        return false;
    memcpy(room, value, nbytes);
    return true;
}

/* Every value as iniparser's dictionary gives it under its name ("band ripple:chart"). It keeps and
 * finds, and no more: what iniparser drops or alters in a file cannot come near the project. Nothing is
 * taken from the arena while it lives, which would not give its memory back. */
static void values_keep(struct scanner *s)
{
    size_t nentries = (size_t)s->nentries;
    const char **names = arena_alloc(s->work->arena, nentries, sizeof *names);
    char **rooms = arena_alloc(s->work->arena, nentries, sizeof *rooms);
    dictionary *dictionary;
    bool good;

    for (size_t i = 0; i < nentries; i++) {
        const struct ini_entry *entry = &s->entries[i];

        names[i] = arena_printf(s->work->arena, "%s:%s", s->sections[entry->section].head, entry->key);
        rooms[i] = entry->value ? arena_strdup(s->work->arena, entry->value) : NULL;
    }
    dictionary = dictionary_new(nentries);
    good = dictionary != NULL;
    for (size_t i = 0; good && i < nentries; i++)
        good = !rooms[i] || dictionary_set(dictionary, names[i], s->entries[i].value) == 0;
    for (size_t i = 0; good && i < nentries; i++) {
        good = !rooms[i] || value_take(dictionary, names[i], rooms[i], strlen(rooms[i]) + 1);
        s->entries[i].value = rooms[i];
    }
    dictionary_del(dictionary);
    if (!good)
        arena_leave(s->work->arena);
}

const struct ini *ini_read(struct work *work, const struct source *source)
{
    struct scanner s = {.work = work, .source = source, .section = NO_SECTION};
    struct ini *ini = arena_alloc(work->arena, 1, sizeof *ini);

    s.sections = arena_alloc(work->arena, INI_SECTIONS_MAX, sizeof *s.sections);
    s.entries = arena_alloc(work->arena, INI_ENTRIES_MAX, sizeof *s.entries);
    for (s.line = 1; s.line <= source->nlines && s.faults < INI_FAULTS_MAX && !s.full; s.line++)
        scan_line(&s);
    values_keep(&s);
    *ini = (struct ini){.source = source,
                        .sections = s.sections,
                        .nsections = s.nsections,
                        .entries = s.entries,
                        .nentries = s.nentries};
    return ini;
}

const struct ini_entry *ini_find(const struct ini *ini, int section, const char *key)
{
    for (int i = 0; i < ini->nentries; i++)
        if (ini->entries[i].section == section && strcmp(ini->entries[i].key, key) == 0)
            return &ini->entries[i];
    return NULL;
}
