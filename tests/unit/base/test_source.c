/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Files are made in a folder of their own under TMPDIR or /tmp. Expected values: counted by
 * eye in the texts written here.
 */
#include <CUnit/CUnit.h>
#include <fcntl.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/source.h"
#include "fixture_work.h"

static const struct place nowhere = {0};

struct folder {
    char path[200];
    char file[256]; /* of the last file made */
};

static struct folder make_folder(void)
{
    struct folder folder = {.path = ""};
    const char *base = getenv("TMPDIR");

    snprintf(folder.path, sizeof folder.path, "%s/source-XXXXXX", base ? base : "/tmp");
    if (!mkdtemp(folder.path))
        abort();
    snprintf(folder.file, sizeof folder.file, "%s/cuff.ini", folder.path);
    return folder;
}

static const char *put(struct folder *folder, const char *bytes, size_t length)
{
    FILE *file = fopen(folder->file, "wb");

    if (!file || fwrite(bytes, 1, length, file) != length || fclose(file) != 0)
        abort();
    return folder->file;
}

static void remove_folder(struct folder *folder)
{
    unlink(folder->file);
    CU_ASSERT_EQUAL(rmdir(folder->path), 0);
}

static int line_is(const struct source *source, int line, const char *expected)
{
    size_t length;
    const char *bytes = source_line(source, line, &length);

    return length == strlen(expected) && memcmp(bytes, expected, length) == 0;
}

static void lines_of_text(void)
{
    struct work work = fixture_work();
    const struct source *source = source_from_text(&work, "cuff.ini", "one\n\nthree\r\nfour");
    const struct source *empty = source_from_text(&work, "none.ini", "");
    size_t length;

    CU_ASSERT_STRING_EQUAL(source->name, "cuff.ini");
    CU_ASSERT_EQUAL(source->nbytes, 16);
    CU_ASSERT_EQUAL(source->nlines, 4);
    CU_ASSERT_EQUAL(source->line_start[2], 5);
    CU_ASSERT(line_is(source, 1, "one"));
    CU_ASSERT(line_is(source, 2, ""));
    CU_ASSERT(line_is(source, 3, "three"));
    CU_ASSERT(line_is(source, 4, "four"));
    CU_ASSERT_STRING_EQUAL(source_line(source, 5, &length), "");
    CU_ASSERT_EQUAL(length, 0);
    CU_ASSERT_STRING_EQUAL(source_line(source, 0, &length), "");
    CU_ASSERT_EQUAL(empty->nlines, 0);
    CU_ASSERT_EQUAL(source_from_text(&work, "a", "one\n")->nlines, 1);
    CU_ASSERT_EQUAL(source_from_text(&work, "a", "\n\n")->nlines, 2);
    fixture_end(&work);
}

static void a_file_is_read_whole(void)
{
    struct work work = fixture_work();
    struct folder folder = make_folder();
    static const char text[] = "\xEF\xBB\xBF[gauge]\r\nstitches = 8½\tin\r\nlast";
    const struct source *source =
        source_read(&work, put(&folder, text, sizeof text - 1), SOURCE_TEXT, 1000, nowhere);

    CU_ASSERT_PTR_NOT_NULL_FATAL(source);
    CU_ASSERT_STRING_EQUAL(source->name, folder.file);
    CU_ASSERT_EQUAL(source->nbytes, sizeof text - 1 - 3);
    CU_ASSERT_EQUAL(source->bytes[source->nbytes], '\0');
    CU_ASSERT_EQUAL(source->nlines, 3);
    CU_ASSERT(line_is(source, 1, "[gauge]"));
    CU_ASSERT(line_is(source, 2, "stitches = 8½\tin"));
    CU_ASSERT(line_is(source, 3, "last"));
    CU_ASSERT(!diagnostics_fatal(work.diagnostics));
    remove_folder(&folder);
    fixture_end(&work);
}

static void a_large_file_is_read_whole(void)
{
    enum { SIZE = 300000 };
    static char bytes[SIZE];
    struct work work = fixture_work();
    struct folder folder = make_folder();
    const struct source *source;

    for (size_t i = 0; i < SIZE; i++)
        bytes[i] = (char)(i * 7 % 256);
    put(&folder, bytes, SIZE);
    source = source_read(&work, folder.file, SOURCE_BINARY, SIZE, nowhere);
    CU_ASSERT_PTR_NOT_NULL_FATAL(source);
    CU_ASSERT_EQUAL(source->nbytes, SIZE);
    CU_ASSERT_EQUAL(memcmp(source->bytes, bytes, SIZE), 0);
    CU_ASSERT_PTR_NULL(source_read(&work, folder.file, SOURCE_BINARY, SIZE - 1, nowhere));
    CU_ASSERT_EQUAL(fixture_diag(&work, 0).code, DIAG_FILE_SIZE);
    CU_ASSERT_PTR_NOT_NULL(strstr(fixture_diag(&work, 0).what, "larger than 300 KB"));
    remove_folder(&folder);
    fixture_end(&work);
}

/* Read path; the one message it must give: its code, words in it, line and column. */
static void refused(const char *path, enum diag_code code, const char *words, int line, int column)
{
    struct work work = fixture_work();
    struct diag diag;

    CU_ASSERT_PTR_NULL(source_read(&work, path, SOURCE_TEXT, 1000, nowhere));
    CU_ASSERT_EQUAL(diagnostics_count(work.diagnostics, DIAG_ERROR), 1);
    diag = fixture_diag(&work, 0);
    CU_ASSERT_EQUAL(diag.code, code);
    CU_ASSERT_PTR_NOT_NULL(strstr(diag.what, words));
    CU_ASSERT_PTR_NOT_NULL(diag.todo);
    CU_ASSERT_EQUAL(diag.at.line, line);
    CU_ASSERT_EQUAL(diag.at.column, column);
    fixture_end(&work);
}

static void refused_bytes(const char *bytes, size_t length, const char *words, int line, int column)
{
    struct folder folder = make_folder();

    refused(put(&folder, bytes, length), DIAG_FILE_KIND, words, line, column);
    remove_folder(&folder);
}

static void what_is_no_text(void)
{
    refused_bytes("a = 1\nb\0 = \xFF", 12, "not plain text", 2, 2);
    refused_bytes("½ x\n½½\xBD", 10, "not in UTF-8", 2, 3);
    refused_bytes("one\ntwo\nred\033[31m", 16, "control character", 3, 4);
    refused_bytes("delete\x7F", 7, "control character", 1, 7);
    refused_bytes("next line \xC2\x85", 12, "control character", 1, 11);
    refused_bytes("a = 1\rb = 2", 11, "carriage return", 1, 6);
    refused_bytes("a = 1\nb = 2\r", 12, "carriage return", 2, 6);
    refused_bytes("\xFF\xFE[\0g\0", 6, "UTF-16", 0, 0);
}

static void each_line_is_told_up_to_ten(void)
{
    struct work work = fixture_work();
    struct folder folder = make_folder();
    char text[] = "\x01\nfine\n\x02\x02\n\xE9\n";
    char many[60];
    int count;

    CU_ASSERT_PTR_NULL(
        source_read(&work, put(&folder, text, sizeof text - 1), SOURCE_TEXT, 1000, nowhere));
    diagnostics_sorted(work.diagnostics, &count);
    CU_ASSERT_EQUAL(count, 3);
    CU_ASSERT_EQUAL(fixture_diag(&work, 1).at.line, 3);
    CU_ASSERT_EQUAL(fixture_diag(&work, 2).at.line, 4);
    fixture_end(&work);

    work = fixture_work();
    for (size_t i = 0; i < sizeof many; i++)
        many[i] = i % 2 ? '\n' : '\x01';
    CU_ASSERT_PTR_NULL(
        source_read(&work, put(&folder, many, sizeof many), SOURCE_TEXT, 1000, nowhere));
    CU_ASSERT_EQUAL(diagnostics_count(work.diagnostics, DIAG_ERROR), 10);
    remove_folder(&folder);
    fixture_end(&work);
}

static void pictures_are_not_checked(void)
{
    struct work work = fixture_work();
    struct folder folder = make_folder();
    static const char bytes[] = "\x89PNG\r\n\x1A\n\0\xFF";
    const struct source *source =
        source_read(&work, put(&folder, bytes, 10), SOURCE_BINARY, 1000, nowhere);

    CU_ASSERT_PTR_NOT_NULL_FATAL(source);
    CU_ASSERT_EQUAL(source->nbytes, 10);
    CU_ASSERT_EQUAL(memcmp(source->bytes, bytes, 10), 0);
    remove_folder(&folder);
    fixture_end(&work);
}

static void what_is_no_file(void)
{
    struct folder folder = make_folder();
    char below[300];

    refused(folder.file, DIAG_FILE_MISSING, "There is no file", 0, 0);
    refused(folder.path, DIAG_FILE_KIND, "is a folder, not a file.", 0, 0);
    CU_ASSERT_EQUAL(mkfifo(folder.file, 0600), 0);
    refused(folder.file, DIAG_FILE_KIND, "is a pipe", 0, 0); /* and does not wait for a writer */
    unlink(folder.file);
    put(&folder, "x", 1);
    snprintf(below, sizeof below, "%s/chart.txt", folder.file);
    refused(below, DIAG_FILE_MISSING, "There is no file", 0, 0);
    refused("/dev/zero", DIAG_FILE_KIND, "is a device", 0, 0);
    refused("", DIAG_FILE_MISSING, "No file is named", 0, 0);
    if (geteuid() != 0) { /* root may read all */
        chmod(folder.file, 0);
        refused(folder.file, DIAG_FILE_MISSING, "may not read it", 0, 0);
    }
    remove_folder(&folder);
}

static void the_place_that_asked_is_kept(void)
{
    struct work work = fixture_work();
    const struct source *project =
        source_from_text(&work, "cuff.ini", "[band]\nchart = no-such-folder/fern.txt\n");
    const struct place asked_at = {project, 2, 9, 23};
    struct diag diag;

    CU_ASSERT_PTR_NULL(source_read(&work, "no-such-folder/fern.txt", SOURCE_TEXT, 1000, asked_at));
    diag = fixture_diag(&work, 0);
    CU_ASSERT_PTR_EQUAL(diag.at.source, project);
    CU_ASSERT_EQUAL(diag.at.line, 2);
    CU_ASSERT_EQUAL(diag.at.column, 9);
    CU_ASSERT_EQUAL(diag.at.width, 23);
    CU_ASSERT_STRING_EQUAL(diag.what, "There is no file no-such-folder/fern.txt.");
    fixture_end(&work);
}

/* With fd as standard input for the time of one reading. */
static const struct source *read_standard_input(struct work *work, int fd, size_t limit_bytes)
{
    int saved = dup(STDIN_FILENO);
    const struct source *source;

    dup2(fd, STDIN_FILENO);
    source = source_read(work, "-", SOURCE_TEXT, limit_bytes, nowhere);
    if (saved >= 0) {
        dup2(saved, STDIN_FILENO);
        close(saved);
    } else {
        close(STDIN_FILENO);
    }
    return source;
}

static void standard_input(void)
{
    struct work work = fixture_work();
    const struct source *source;
    char stripes[12000];
    int ends[2], folder = open("/", O_RDONLY);

    for (size_t i = 0; i < sizeof stripes; i++)
        stripes[i] = i % 40 == 39 ? '\n' : 'x';
    for (int round = 0; round < 2; round++) {
        CU_ASSERT_EQUAL_FATAL(pipe(ends), 0);
        CU_ASSERT_EQUAL(write(ends[1], stripes, sizeof stripes), (ssize_t)sizeof stripes);
        close(ends[1]);
        source = read_standard_input(&work, ends[0], sizeof stripes - (size_t)round);
        close(ends[0]);
        if (round == 1) {
            CU_ASSERT_PTR_NULL(source);
            continue;
        }
        CU_ASSERT_PTR_NOT_NULL_FATAL(source);
        CU_ASSERT_EQUAL(source->nbytes, sizeof stripes);
        CU_ASSERT_EQUAL(source->nlines, 300);
        CU_ASSERT_EQUAL(memcmp(source->bytes, stripes, sizeof stripes), 0);
    }
    CU_ASSERT_EQUAL(fixture_diag(&work, 0).code, DIAG_FILE_SIZE);
    CU_ASSERT_PTR_NULL(read_standard_input(&work, folder, 100));
    CU_ASSERT_EQUAL(fixture_diag(&work, 1).code, DIAG_FILE_KIND);
    close(folder);
    fixture_end(&work);
}

CU_TestInfo tests_source[] = {
    {"lines of a text", lines_of_text},
    {"a file is read whole, its UTF-8 mark skipped", a_file_is_read_whole},
    {"a large file to its last byte, and not one over the limit", a_large_file_is_read_whole},
    {"what is no text is refused with its place", what_is_no_text},
    {"each such line is told, up to ten", each_line_is_told_up_to_ten},
    {"pictures are taken as they are", pictures_are_not_checked},
    {"missing files, folders, pipes and devices", what_is_no_file},
    {"the place that named the file is kept", the_place_that_asked_is_kept},
    {"standard input up to the limit", standard_input},
    CU_TEST_INFO_NULL,
};
