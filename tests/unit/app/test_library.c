/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The library from memory alone gives, byte for byte, what the program is stored to print (tests/golden,
 * regression), and messages with their places (counted by eye in the files named). Files are read here, by
 * the test; pictures are handed over unpacked.
 */
#include <CUnit/CUnit.h>
#include <dirent.h>
#include <locale.h>
#include <png.h>
#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "strandwise.h"

enum { FILES_MAX = 8 };
static const size_t MEMORY = (size_t)1 << 30;

struct files {
    struct strandwise_file file[FILES_MAX];
    int count;
};

static struct strandwise_file read_file(const char *path)
{
    struct strandwise_file got = {.name = strdup(path)};
    FILE *file = fopen(path, "rb");
    char *bytes = NULL;
    long length;

    if (!file || fseek(file, 0, SEEK_END) != 0 || (length = ftell(file)) < 0)
        abort();
    rewind(file);
    bytes = malloc((size_t)length + 1);
    if (!bytes || fread(bytes, 1, (size_t)length, file) != (size_t)length)
        abort();
    bytes[length] = '\0';
    fclose(file);
    got.bytes = bytes;
    got.nbytes = (size_t)length;
    return got;
}

/* In place of the packed bytes. */
static void unpack(struct strandwise_file *file)
{
    png_image image = {.version = PNG_IMAGE_VERSION};
    unsigned char *rows;

    if (!png_image_begin_read_from_memory(&image, file->bytes, file->nbytes))
        abort();
    image.format = PNG_FORMAT_RGBA;
    rows = malloc(PNG_IMAGE_SIZE(image));
    if (!rows || !png_image_finish_read(&image, NULL, rows, 0, NULL))
        abort();
    free((void *)(size_t)file->bytes);
    file->bytes = rows;
    file->nbytes = PNG_IMAGE_SIZE(image);
    file->width = (long)image.width;
    file->height = (long)image.height;
}

/* All of a folder, pictures unpacked. */
static struct files read_folder(const char *folder)
{
    struct files files = {.count = 0};
    DIR *opened = opendir(folder);

    if (!opened)
        abort();
    for (struct dirent *entry; (entry = readdir(opened)) != NULL;) {
        char path[600];
        const char *end = strrchr(entry->d_name, '.');

        if (entry->d_name[0] == '.')
            continue;
        if (files.count == FILES_MAX)
            abort();
        snprintf(path, sizeof path, "%s/%s", folder, entry->d_name);
        files.file[files.count] = read_file(path);
        if (end && strcmp(end, ".png") == 0)
            unpack(&files.file[files.count]);
        files.count++;
    }
    closedir(opened);
    return files;
}

static void free_file(struct strandwise_file *file)
{
    free((void *)(size_t)file->name);
    free((void *)(size_t)file->bytes);
}

static void free_files(struct files *files)
{
    for (int i = 0; i < files->count; i++)
        free_file(&files->file[i]);
}

static bool is_stored(const struct strandwise_bytes *made, const char *name, const char *ending)
{
    char path[600];
    struct strandwise_file stored;
    bool same;

    snprintf(path, sizeof path, "tests/golden/%s%s", name, ending);
    stored = read_file(path);
    same = made->nbytes == stored.nbytes && memcmp(made->bytes, stored.bytes, made->nbytes) == 0;
    free_file(&stored);
    return same;
}

static struct strandwise_bytes make(struct strandwise *core, struct strandwise_wish wish)
{
    struct strandwise_bytes made;

    CU_ASSERT_EQUAL_FATAL(strandwise_make(core, &wish, &made), RUN_DONE);
    return made;
}

static const char *const examples[] = {"barley-socks", "moth-cushion",  "pinewood-yoke",
                                       "skep-mittens", "tile-blanket", "toadstool-hat"};
enum { EXAMPLES = sizeof examples / sizeof *examples };

static void plan_example(const char *name, void (*check)(struct strandwise *core, const char *name))
{
    char folder[300], project[600];
    struct files files;
    struct strandwise *core;

    snprintf(folder, sizeof folder, "examples/%s", name);
    snprintf(project, sizeof project, "%s/%s.ini", folder, name);
    files = read_folder(folder);
    core = strandwise_begin(files.file, files.count, MEMORY);
    CU_ASSERT_PTR_NOT_NULL_FATAL(core);
    CU_ASSERT_EQUAL_FATAL(strandwise_plan(core, project), RUN_DONE);
    check(core, name);
    strandwise_end(core);
    free_files(&files);
}

static void check_stored(struct strandwise *core, const char *name)
{
    struct strandwise_bytes made = make(core, (struct strandwise_wish){.output = OUTPUT_PLAN});

    CU_ASSERT(is_stored(&made, name, ".txt"));
    made = make(core, (struct strandwise_wish){.output = OUTPUT_JSON});
    CU_ASSERT(is_stored(&made, name, ".json"));
    made = make(core, (struct strandwise_wish){.output = OUTPUT_CHART});
    CU_ASSERT(is_stored(&made, name, "-chart.txt"));
}

static void examples_as_stored(void)
{
    for (int i = 0; i < EXAMPLES; i++)
        plan_example(examples[i], check_stored);
}

static bool holds(const struct strandwise_bytes *made, const char *words)
{
    return strstr(made->bytes, words) != NULL;
}

/* A drawing that is whole: its first words and its last. */
static bool is_svg(const struct strandwise_bytes *made)
{
    static const char head[] = "<?xml", tail[] = "</svg>\n";

    return made->nbytes > 1000 && memcmp(made->bytes, head, sizeof head - 1) == 0 &&
           strcmp(made->bytes + made->nbytes - (sizeof tail - 1), tail) == 0;
}

static void check_outputs(struct strandwise *core, const char *name)
{
    static const enum strandwise_output drawn[] = {OUTPUT_DRAWING, OUTPUT_PAGES, OUTPUT_LESSON,
                                                   OUTPUT_REDRAW_DRAWING};
    struct strandwise_wish wish = {.output = OUTPUT_REDRAW};
    struct strandwise_bytes made;

    (void)name;
    CU_ASSERT_EQUAL(strandwise_make(core, &wish, &made), RUN_USAGE);
    CU_ASSERT_STRING_EQUAL(strandwise_why(core), "nothing is redrawn yet.");
    CU_ASSERT_EQUAL(strandwise_redraw(core, "barleys", 14, 0), RUN_USAGE);
    CU_ASSERT(strstr(strandwise_why(core), "there is no band barleys. Did you mean barley?") != NULL);
    CU_ASSERT_EQUAL_FATAL(strandwise_redraw(core, NULL, 14, 0), RUN_DONE);
    CU_ASSERT_EQUAL(strandwise_redraw(core, "barleys", 14, 0), RUN_USAGE);
    CU_ASSERT_EQUAL(strandwise_make(core, &wish, &made), RUN_USAGE); /* nor the one before */
    wish = (struct strandwise_wish){.output = OUTPUT_DRAWING, .cell_mm = 50.5};
    CU_ASSERT_EQUAL(strandwise_make(core, &wish, &made), RUN_USAGE);
    wish = (struct strandwise_wish){.output = OUTPUT_DRAWING, .show = (enum strandwise_show)9};
    CU_ASSERT_EQUAL(strandwise_make(core, &wish, &made), RUN_USAGE);
    CU_ASSERT_EQUAL_FATAL(strandwise_redraw(core, NULL, 14, 0), RUN_DONE);
    for (size_t i = 0; i < sizeof drawn / sizeof *drawn; i++) {
        made = make(core, (struct strandwise_wish){.output = drawn[i]});
        CU_ASSERT(is_svg(&made));
        made = make(core, (struct strandwise_wish){.output = drawn[i], .sheet = 1});
        CU_ASSERT(is_svg(&made));
        wish = (struct strandwise_wish){.output = drawn[i], .sheet = 99};
        CU_ASSERT_EQUAL(strandwise_make(core, &wish, &made), RUN_USAGE);
    }
    made = make(core, (struct strandwise_wish){.output = OUTPUT_DIRECTIONS});
    CU_ASSERT(holds(&made, "the rounds in words"));
    made = make(core, (struct strandwise_wish){.output = OUTPUT_CHECK});
    CU_ASSERT(holds(&made, "Nothing"));
    made = make(core, (struct strandwise_wish){.output = OUTPUT_REDRAW});
    CU_ASSERT(holds(&made, "New:"));
    made = make(core, (struct strandwise_wish){.output = OUTPUT_REDRAW_JSON});
    CU_ASSERT_EQUAL(made.bytes[0], '{');
    made = make(core, (struct strandwise_wish){.output = OUTPUT_REDRAW_CHART});
    CU_ASSERT(holds(&made, "14 stitches"));
}

static void other_outputs(void)
{
    plan_example("barley-socks", check_outputs);
}

/* --- messages ------------------------------------------------------------------------------ */

static void faults_have_places(void)
{
    static const char text[] = "[project]\ntitle = Cuff\nwroked = round\n";
    const struct strandwise_file file = {"in/cuff.ini", text, sizeof text - 1, 0, 0};
    struct strandwise *core = strandwise_begin(&file, 1, MEMORY);
    const struct strandwise_message *message;
    int count;

    CU_ASSERT_PTR_NOT_NULL_FATAL(core);
    CU_ASSERT_EQUAL(strandwise_plan(core, "in/cuff.ini"), RUN_MEND);
    count = strandwise_messages(core, &message);
    CU_ASSERT_FATAL(count > 1);
    while (count > 1 && strcmp(message->code, "unknown-key") != 0) {
        message++;
        count--;
    }
    CU_ASSERT_STRING_EQUAL(message->code, "unknown-key");
    CU_ASSERT_EQUAL(message->severity, STRANDWISE_FAULT);
    CU_ASSERT_STRING_EQUAL(message->file, "in/cuff.ini");
    CU_ASSERT_EQUAL(message->line, 3);
    CU_ASSERT_EQUAL(message->column, 1);
    CU_ASSERT_EQUAL(message->width, 6);
    CU_ASSERT(strstr(message->what, "wroked") != NULL);
    strandwise_end(core);
}

static void files_that_are_not_there(void)
{
    struct strandwise_file files[2] = {read_file("examples/barley-socks/barley-socks.ini"), {.name = "x"}};
    struct strandwise *core = strandwise_begin(files, 1, MEMORY);
    const struct strandwise_message *message;
    struct strandwise_bytes made;

    CU_ASSERT_EQUAL(strandwise_plan(core, "no.ini"), RUN_FILE);
    CU_ASSERT_EQUAL(strandwise_make(core, &(struct strandwise_wish){.output = OUTPUT_PLAN}, &made), RUN_USAGE);
    CU_ASSERT_EQUAL(strandwise_messages(core, &message), 1);
    CU_ASSERT_STRING_EQUAL(message->what, "There is no file no.ini.");
    CU_ASSERT_EQUAL(strandwise_table(core, "mine/allowances.csv"), RUN_FILE);
    strandwise_end(core);

    core = strandwise_begin(files, 1, MEMORY);
    CU_ASSERT_EQUAL(strandwise_plan(core, files[0].name), RUN_FILE);
    CU_ASSERT_EQUAL(strandwise_messages(core, &message), 1);
    CU_ASSERT(strstr(message->what, "nor one with .chart or .png") != NULL);
    CU_ASSERT_STRING_EQUAL(message->file, files[0].name);
    strandwise_end(core);
    free_file(&files[0]);
}

/* What was said of one is not said of the next. */
static void one_after_another(void)
{
    struct files files = read_folder("examples/barley-socks");
    struct strandwise *core = strandwise_begin(files.file, files.count, MEMORY);
    const struct strandwise_message *message;

    CU_ASSERT_PTR_NOT_NULL_FATAL(core);
    CU_ASSERT_EQUAL(strandwise_plan(core, "no.ini"), RUN_FILE);
    CU_ASSERT_EQUAL_FATAL(strandwise_plan(core, "examples/barley-socks/barley-socks.ini"), RUN_DONE);
    for (int i = strandwise_messages(core, &message); i > 0; i--, message++)
        CU_ASSERT_NOT_EQUAL(message->severity, STRANDWISE_FAULT);
    check_stored(core, "barley-socks");
    strandwise_end(core);
    free_files(&files);
}

/* A caller in whose language numbers have a comma; where the machine knows such a one. */
static void in_any_language(void)
{
    static const char *const commas[] = {"de_DE.UTF-8", "de_DE.utf8", "fr_FR.UTF-8", "fr_FR.utf8", "de_DE"};
    const char *found = NULL;

    for (size_t i = 0; i < sizeof commas / sizeof *commas && !found; i++)
        found = setlocale(LC_ALL, commas[i]);
    plan_example("barley-socks", check_stored);
    if (found)
        CU_ASSERT_STRING_EQUAL(localeconv()->decimal_point, ","); /* the caller's is left as it was */
    setlocale(LC_ALL, "C");
}

/* A picture as on disk, where nobody unpacks it; and one unpacked that is too short for its size. */
static void pictures_come_unpacked(void)
{
    struct strandwise_file files[3] = {read_file("examples/toadstool-hat/toadstool-hat.ini"),
                                       read_file("examples/toadstool-hat/toadstool.png"),
                                       read_file("examples/toadstool-hat/trellis.chart")};
    const struct strandwise_message *message;

    for (int cut = 0; cut < 2; cut++) {
        struct strandwise *core;

        if (cut) {
            unpack(&files[1]);
            files[1].nbytes--;
        }
        core = strandwise_begin(files, 3, MEMORY);
        CU_ASSERT_EQUAL(strandwise_plan(core, files[0].name), RUN_MEND);
        CU_ASSERT_EQUAL(strandwise_messages(core, &message), 1);
        CU_ASSERT_STRING_EQUAL(message->code, "chart-image");
        CU_ASSERT(strstr(message->what, cut ? "is cut short" : "nothing here unpacks it") != NULL);
        strandwise_end(core);
    }
    for (int i = 0; i < 3; i++)
        free_file(&files[i]);
}

/* With less and less memory: a status, never an end. */
static void memory_runs_out(void)
{
    struct files files = read_folder("examples/barley-socks");
    const struct strandwise_wish wish = {.output = OUTPUT_JSON};
    struct strandwise_bytes made;
    int done = 0, none = 0, some = 0;

    CU_ASSERT_PTR_NULL(strandwise_begin(files.file, files.count, 1000));
    for (size_t memory = 200000; memory < (size_t)512 << 20; memory += memory / 3) {
        struct strandwise *core = strandwise_begin(files.file, files.count, memory);
        enum run_status status = core ? strandwise_plan(core, "examples/barley-socks/barley-socks.ini") : RUN_MEMORY;

        CU_ASSERT(status == RUN_DONE || status == RUN_MEMORY);
        none += status == RUN_MEMORY;
        if (status == RUN_DONE)
            status = strandwise_make(core, &wish, &made);
        some += status == RUN_MEMORY;
        done += status == RUN_DONE;
        strandwise_end(core);
    }
    CU_ASSERT(none > 0 && some >= none && done > 0);
    free_files(&files);
}

/* --- threads ------------------------------------------------------------------------------- */

/* Every second example, from that one on, planned and put out; the outputs' bytes summed up. */
struct thread {
    int first;
    unsigned long sum;
    int failures;
};

static void *work(void *data)
{
    static const enum strandwise_output outputs[] = {OUTPUT_PLAN, OUTPUT_JSON, OUTPUT_CHART, OUTPUT_DRAWING};
    struct thread *thread = data;

    for (int i = thread->first; i < EXAMPLES; i += 2) {
        char folder[300], project[600];
        struct files files;
        struct strandwise *core;

        snprintf(folder, sizeof folder, "examples/%s", examples[i]);
        snprintf(project, sizeof project, "%s/%s.ini", folder, examples[i]);
        files = read_folder(folder);
        core = strandwise_begin(files.file, files.count, MEMORY);
        thread->failures += !core || strandwise_plan(core, project) != RUN_DONE;
        for (size_t k = 0; k < sizeof outputs / sizeof *outputs; k++) {
            const struct strandwise_wish wish = {.output = outputs[k]};
            struct strandwise_bytes made;

            thread->failures += strandwise_make(core, &wish, &made) != RUN_DONE;
            for (size_t at = 0; at < made.nbytes; at++)
                thread->sum = thread->sum * 31 + (unsigned char)made.bytes[at];
        }
        strandwise_end(core);
        free_files(&files);
    }
    return NULL;
}

/* Two at once give what one after the other gives. */
static void two_at_once(void)
{
    struct thread alone[2] = {{0, 0, 0}, {1, 0, 0}}, both[2] = {{0, 0, 0}, {1, 0, 0}};
    pthread_t id[2];

    for (int i = 0; i < 2; i++)
        CU_ASSERT_EQUAL_FATAL(pthread_create(&id[i], NULL, work, &both[i]), 0);
    for (int i = 0; i < 2; i++)
        CU_ASSERT_EQUAL(pthread_join(id[i], NULL), 0);
    for (int i = 0; i < 2; i++) {
        work(&alone[i]);
        CU_ASSERT_EQUAL(both[i].sum, alone[i].sum);
        CU_ASSERT(both[i].sum != 0);
        CU_ASSERT_EQUAL(both[i].failures + alone[i].failures, 0);
    }
}

extern CU_TestInfo tests_library[];
CU_TestInfo tests_library[] = {
    {"examples from memory come out as stored", examples_as_stored},
    {"every other output, and what is not there", other_outputs},
    {"faults have their places", faults_have_places},
    {"files that are not there", files_that_are_not_there},
    {"one plan after another", one_after_another},
    {"in any language", in_any_language},
    {"pictures come unpacked", pictures_come_unpacked},
    {"out of memory is a status", memory_runs_out},
    {"two plans at once", two_at_once},
    CU_TEST_INFO_NULL,
};
