/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "source.h"

#include <limits.h>
#include <stdint.h>
#include <string.h>

#include "arena.h"
#include "diag.h"
#include "text.h"
#include "work.h"

/* Lines reported before a file is given up as not being text at all. */
enum { FAULTY_LINES_MAX = 10 };

static const char save_again[] = "Save the file again as plain text in UTF-8.";

/* --- what is no file ------------------------------------------------------------------ */

static const char *shown(const char *name)
{
    return strcmp(name, "-") == 0 ? "standard input" : name;
}

static void refuse(struct work *work, struct place asked_at, enum diag_code code, const char *name,
                   const char *after_name, const char *todo)
{
    diag_add(work->diagnostics, code, asked_at, arena_printf(work->arena, "%s %s", shown(name), after_name), todo);
}

static void refuse_size(struct work *work, struct place asked_at, const char *name, size_t limit)
{
    struct text size = text_create(work->arena);

    if (limit >= 1000000)
        text_decimal(&size, (double)limit / 1e6, 1), text_add(&size, " MB");
    else if (limit >= 1000)
        text_decimal(&size, (double)limit / 1e3, 1), text_add(&size, " KB");
    else
        text_addf(&size, "%zu bytes", limit);
    refuse(work, asked_at, DIAG_FILE_SIZE, name,
           arena_printf(work->arena, "is larger than %s, the most that is read here.", size.bytes),
           "Check that it is the right file.");
}

void source_refuse(struct work *work, const char *name, enum file_found found, size_t limit_bytes,
                   const struct file_got *got, struct place asked_at)
{
    static const char *const kinds[] = {[FILE_FOLDER] = "is a folder, not a file.",
                                        [FILE_PIPE] = "is a pipe, not a file.",
                                        [FILE_DEVICE] = "is a device, not a file."};

    if (name[0] == '\0')
        diag_add(work->diagnostics, DIAG_FILE_MISSING, asked_at, "No file is named here.",
                 "Write the name of the file.");
    else if (found == FILE_NONE)
        diag_add(work->diagnostics, DIAG_FILE_MISSING, asked_at,
                 arena_printf(work->arena, "There is no file %s.", shown(name)),
                 "Check how the name is spelled and in which folder the file is.");
    else if (found == FILE_FORBIDDEN)
        refuse(work, asked_at, DIAG_FILE_MISSING, name, "is there, but you may not read it.",
               "Give yourself the right to read it, or name a copy of your own.");
    else if (found == FILE_UNREADABLE)
        refuse(work, asked_at, DIAG_FILE_MISSING, name,
               arena_printf(work->arena, "cannot be read (%s).", got->why),
               "Name another file, or a copy of this one.");
    else if (found == FILE_LARGE)
        refuse_size(work, asked_at, name, limit_bytes);
    else
        refuse(work, asked_at, DIAG_FILE_KIND, name, kinds[found], "Name the file itself.");
}

/* --- lines ----------------------------------------------------------------------------- */

static struct source *make_source(struct work *work, const char *name, const char *bytes, size_t nbytes)
{
    struct source *source = arena_alloc(work->arena, 1, sizeof *source);
    size_t *line_start;
    size_t nlines = 0;

    for (size_t i = 0; i < nbytes; i++)
        nlines += bytes[i] == '\n' || i + 1 == nbytes;
    if (nlines > INT_MAX)
        nlines = INT_MAX;
    line_start = arena_alloc(work->arena, nlines, sizeof *line_start);
    for (size_t i = 0, line = 1; line < nlines; i++)
        if (bytes[i] == '\n')
            line_start[line++] = i + 1;
    *source = (struct source){.name = name,
                              .bytes = bytes,
                              .nbytes = nbytes,
                              .line_start = line_start,
                              .nlines = (int)nlines};
    return source;
}

/* --- is it text? -------------------------------------------------------------------- */

/* The first character of the line that plain text does not have: its offset and, in *code,
 * its number (UINT32_MAX: not UTF-8). length: there is none. */
static size_t find_foreign(const char *line, size_t length, uint32_t *code)
{
    for (size_t i = 0; i < length;) {
        size_t size = text_character(line + i, length - i, code);

        if (size == 0) {
            *code = UINT32_MAX;
            return i;
        }
        if ((*code < 0x20 && *code != '\t') || (*code >= 0x7F && *code < 0xA0))
            return i;
        i += size;
    }
    return length;
}

static void report_foreign(struct work *work, struct place at, uint32_t code)
{
    const char *what = "There is a letter here that is not in UTF-8.";
    const char *todo = save_again;

    if (code == 0) {
        what = "This is not plain text.";
        todo = "Check that it is the right file; if it is, save it as plain text in UTF-8.";
    } else if (code == '\r') {
        what = "There is a lone carriage return here, which ends no line.";
        todo = "Save the file again with ordinary line ends (Unix or Windows).";
    } else if (code != UINT32_MAX) {
        what = arena_printf(work->arena, "There is a hidden control character here (number %u).",
                            (unsigned)code);
        todo = "Delete it, or type the line again.";
    }
    diag_add(work->diagnostics, DIAG_FILE_KIND, at, what, todo);
}

static bool is_text(struct work *work, const struct source *source)
{
    int faulty = 0;

    for (int line = 1; line <= source->nlines && faulty < FAULTY_LINES_MAX; line++) {
        size_t length;
        uint32_t code = 0;
        const char *bytes = source_line(source, line, &length);
        size_t at = find_foreign(bytes, length, &code);
        struct place place = {source, line, 1, 1};

        if (at == length)
            continue;
        for (size_t i = 0; i < at; i += text_character(bytes + i, at - i, NULL))
            place.column++;
        report_foreign(work, place, code);
        faulty = code == 0 ? FAULTY_LINES_MAX : faulty + 1;
    }
    return faulty == 0;
}

/* Text as some editors save it by themselves: two bytes a letter. */
static bool is_utf16(const char *bytes, size_t nbytes)
{
    return nbytes >= 2 && (memcmp(bytes, "\xFF\xFE", 2) == 0 || memcmp(bytes, "\xFE\xFF", 2) == 0);
}

static void note_read(struct work *work, const char *path)
{
    struct file_read *read = arena_alloc(work->arena, 1, sizeof *read);

    *read = (struct file_read){arena_strdup(work->arena, path), work->read};
    work->read = read;
}

enum file_found source_find(struct work *work, const char *name, size_t limit_bytes, struct file_got *got)
{
    *got = (struct file_got){.bytes = ""};
    return work->outside ? work->outside->find(work, name, limit_bytes, got) : FILE_NONE;
}

const struct source *source_take(struct work *work, const char *name, enum source_kind kind,
                                 const struct file_got *got, struct place asked_at)
{
    const char *bytes = got->bytes;
    size_t nbytes = got->nbytes;
    struct source *source;

    note_read(work, name);
    if (kind == SOURCE_TEXT && is_utf16(bytes, nbytes)) {
        refuse(work, asked_at, DIAG_FILE_KIND, name, "is text in UTF-16, not in UTF-8.", save_again);
        return NULL;
    }
    if (kind == SOURCE_TEXT && nbytes >= 3 && memcmp(bytes, "\xEF\xBB\xBF", 3) == 0) {
        bytes += 3;
        nbytes -= 3;
    }
    source = make_source(work, shown(name), bytes, nbytes);
    source->width = got->width;
    source->height = got->height;
    return kind == SOURCE_BINARY || is_text(work, source) ? source : NULL;
}

const struct source *source_read(struct work *work, const char *path, enum source_kind kind,
                                 size_t limit_bytes, struct place asked_at)
{
    struct file_got got;
    enum file_found found = source_find(work, path, limit_bytes, &got);

    if (found == FILE_FOUND)
        return source_take(work, path, kind, &got, asked_at);
    source_refuse(work, path, found, limit_bytes, &got, asked_at);
    return NULL;
}

const struct source *source_from_text(struct work *work, const char *name, const char *text)
{
    return make_source(work, name, text, strlen(text));
}

const char *source_line(const struct source *source, int line, size_t *length)
{
    size_t start, end;

    *length = 0;
    if (line < 1 || line > source->nlines)
        return "";
    start = source->line_start[line - 1];
    end = line < source->nlines ? source->line_start[line] : source->nbytes;
    if (end > start && source->bytes[end - 1] == '\n') {
        end--;
        if (end > start && source->bytes[end - 1] == '\r')
            end--;
    }
    *length = end - start;
    return source->bytes + start;
}
