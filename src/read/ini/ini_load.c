/* SPDX-License-Identifier: GPL-3.0-or-later */
#define _GNU_SOURCE /* memfd_create */
#include "ini_load.h"

#include <stdio.h>
#include <string.h>
#include <sys/mman.h>
#include <unistd.h>

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
#include "base/text.h"
#include "base/work.h"

/* --- writing for iniparser ---------------------------------------------------------- */

/* iniparser ends a "value" at the next " and a 'value' at the next ', so the kind of quote is
 * chosen by what the value holds; one with both inside has no ; or # and may stand bare. */
static void write_value(struct text *out, const char *key, const char *value)
{
    const char *quote = !strchr(value, '"') ? "\"" : !strchr(value, '\'') ? "'" : "";

    text_addf(out, "%s = %s%s%s\n", key, quote, value, quote);
}

static struct text write_all(struct work *work, const struct ini_section *sections, int nsections,
                             const struct ini_entry *entries, int nentries)
{
    struct text out = text_create(work->arena);

    for (int i = 0; i < nsections; i++) {
        text_addf(&out, "[%s]\n", sections[i].head);
        for (int k = 0; k < nentries; k++)
            if (entries[k].section == i && entries[k].value)
                write_value(&out, entries[k].key, entries[k].value);
    }
    return out;
}

/* --- through iniparser -------------------------------------------------------------- */

/* iniparser would print to the terminal; all it could say has been said. */
static int say_nothing(const char *format, ...)
{
    (void)format;
    return 0;
}

/* A file in memory: the project file is read once, and may be standard input. */
static dictionary *load_text(const struct text *text)
{
    char path[40];
    dictionary *dictionary = NULL;
    size_t done = 0;
    int descriptor = memfd_create("project", MFD_CLOEXEC);

    if (descriptor < 0)
        return NULL;
    while (done < text->length) {
        ssize_t n = write(descriptor, text->bytes + done, text->length - done);

        if (n <= 0)
            break;
        done += (size_t)n;
    }
    snprintf(path, sizeof path, "/proc/self/fd/%d", descriptor);
    if (done == text->length) {
        iniparser_set_error_callback(say_nothing);
        dictionary = iniparser_load(path);
        iniparser_set_error_callback(NULL);
    }
    close(descriptor);
    return dictionary;
}

static void take_value(struct work *work, const dictionary *dictionary, const char *head,
                       struct ini_entry *entry)
{
    const char *key = arena_printf(work->arena, "%s:%s", head, entry->key);
    const char *value = iniparser_getstring(dictionary, key, NULL);

    if (value && strcmp(value, entry->value) == 0) {
        entry->value = arena_strdup(work->arena, value);
        return;
    }
    diag_add(work->diagnostics, DIAG_QUOTE, entry->at, "This value can be read in two ways.",
             "Put it in double quotes, and leave out marks that are no letters or digits.");
    entry->value = NULL;
}

bool ini_load(struct work *work, const struct source *source, const struct ini_section *sections,
              int nsections, struct ini_entry *entries, int nentries)
{
    const struct text text = write_all(work, sections, nsections, entries, nentries);
    dictionary *dictionary = load_text(&text);

    if (!dictionary) {
        diag_add(work->diagnostics, DIAG_FILE_MISSING, (struct place){.source = source, .width = 1},
                 "The project file cannot be read: there is no memory file to read it through.",
                 "The program needs Linux, with /proc in its place.");
        return false;
    }
    for (int i = 0; i < nentries; i++)
        if (entries[i].value)
            take_value(work, dictionary, sections[entries[i].section].head, &entries[i]);
    iniparser_freedict(dictionary);
    return true;
}
