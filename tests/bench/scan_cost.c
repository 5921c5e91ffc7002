/*
 * What a scan costs beside the bare SQLite transaction that writes the same rows. Both take turns,
 * on files of the same shop on the same disk: a line to the bench over a pipe until its answer is
 * read, then the same movement as prepared statements alone, with the same safety (write-ahead log,
 * synced at each commit). Prints the milliseconds of both, a pair a line.
 *
 *   scan_cost PROGRAM SHOP BARE SCANS       BARE is a copy of SHOP
 */
#include <sqlite3.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#define TOOLS 40

static struct {
	FILE *lines, *answers; /* of the bench */
	sqlite3 *bare;
	sqlite3_stmt *begin, *move, *enter, *commit;
} work;

static struct {
	sqlite3_int64 id;
	char tag[32];
} tools[TOOLS];
/* Neither has a capacity, so an answer is one line. */
static const char *const places[] = {"R1", "R2"};
static sqlite3_int64 place_ids[2];

static void stop(const char *what)
{
	fprintf(stderr, "scan_cost: %s: %s\n", what,
	        work.bare != NULL ? sqlite3_errmsg(work.bare) : "");
	exit(2);
}

static double now_ms(void)
{
	struct timespec now;
	clock_gettime(CLOCK_MONOTONIC, &now);
	return (double)now.tv_sec * 1e3 + (double)now.tv_nsec / 1e6;
}

/* ---------------------------------------------------------------- the bare transaction */

static sqlite3_stmt *prepared(const char *sql)
{
	sqlite3_stmt *stmt = NULL;
	if (sqlite3_prepare_v3(work.bare, sql, -1, SQLITE_PREPARE_PERSISTENT, &stmt, NULL) !=
	    SQLITE_OK) {
		stop(sql);
	}
	return stmt;
}

static void run(sqlite3_stmt *stmt)
{
	if (sqlite3_step(stmt) != SQLITE_DONE) {
		stop(sqlite3_sql(stmt));
	}
	sqlite3_reset(stmt);
}

static void bare_open(const char *file)
{
	if (sqlite3_open(file, &work.bare) != SQLITE_OK ||
	    sqlite3_exec(
			work.bare,
			"PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; PRAGMA foreign_keys = ON;"
			"PRAGMA cell_size_check = ON",
			NULL, NULL, NULL) != SQLITE_OK) {
		stop(file);
	}
	work.begin = prepared("BEGIN IMMEDIATE");
	work.move = prepared("UPDATE tool SET place = ?1, back = NULL, taken_for = NULL WHERE id = ?2");
	work.enter = prepared(
		"INSERT INTO ledger (number, word, subject_kind, subject, operator, login, terminal,"
		" from_place, to_place, job, happened, recorded, detail, hash) VALUES ((SELECT max(number)"
		" FROM ledger) + 1, 'put', 'cylinder', ?1, (SELECT id FROM operator WHERE badge = 'E011'),"
		" 'toolroom', '-', ?2, ?3, NULL, ?4, ?4, NULL, randomblob(32))");
	work.commit = prepared("COMMIT");
	sqlite3_stmt *stmt = prepared("SELECT id, tag FROM tool WHERE kind = 'cylinder' AND condition ="
	                              " 'ready' ORDER BY tag");
	for (size_t i = 0; i < TOOLS && sqlite3_step(stmt) == SQLITE_ROW; i++) {
		tools[i].id = sqlite3_column_int64(stmt, 0);
		snprintf(tools[i].tag, sizeof tools[i].tag, "%s",
		         (const char *)sqlite3_column_text(stmt, 1));
	}
	sqlite3_finalize(stmt);
	stmt = prepared("SELECT id FROM place WHERE code = ?1");
	for (size_t i = 0; i < 2; i++) {
		sqlite3_bind_text(stmt, 1, places[i], -1, SQLITE_STATIC);
		if (sqlite3_step(stmt) == SQLITE_ROW) {
			place_ids[i] = sqlite3_column_int64(stmt, 0);
		}
		sqlite3_reset(stmt);
	}
	sqlite3_finalize(stmt);
}

static double bare_scan(size_t tool, size_t place)
{
	double began = now_ms();
	run(work.begin);
	sqlite3_bind_int64(work.move, 1, place_ids[place]);
	sqlite3_bind_int64(work.move, 2, tools[tool].id);
	run(work.move);
	sqlite3_bind_int64(work.enter, 1, tools[tool].id);
	sqlite3_bind_int64(work.enter, 2, place_ids[1 - place]);
	sqlite3_bind_int64(work.enter, 3, place_ids[place]);
	sqlite3_bind_int64(work.enter, 4, (sqlite3_int64)time(NULL));
	run(work.enter);
	run(work.commit);
	return now_ms() - began;
}

/* ---------------------------------------------------------------- the bench */

static void bench_open(char *program, char *shop)
{
	int in[2];
	int out[2];
	char *arguments[] = {program, "--db", shop, "--csv", "scan", NULL};
	if (pipe(in) != 0 || pipe(out) != 0) {
		stop("no pipe");
	}
	if (fork() == 0) {
		dup2(in[0], STDIN_FILENO);
		dup2(out[1], STDOUT_FILENO);
		close(in[1]);
		close(out[0]);
		execv(program, arguments);
		_exit(127);
	}
	close(in[0]);
	close(out[1]);
	work.lines = fdopen(in[1], "w");
	work.answers = fdopen(out[0], "r");
}

/* The answer must be what is told; so nothing else is measured. */
static double bench_scan(const char *line, const char *answer)
{
	char read[4096] = "";
	double began = now_ms();
	fprintf(work.lines, "%s\n", line);
	fflush(work.lines);
	bool told = fgets(read, sizeof read, work.answers) != NULL;
	double took = now_ms() - began;
	if (!told || strncmp(read, answer, strlen(answer)) != 0) {
		fprintf(stderr, "scan_cost: %s: %s", line, read);
		exit(2);
	}
	return took;
}

int main(int argument_count, char **arguments)
{
	if (argument_count != 5) {
		fputs("usage: scan_cost PROGRAM SHOP BARE SCANS\n", stderr);
		return 2;
	}
	size_t scans = strtoul(arguments[4], NULL, 10);
	bare_open(arguments[3]);
	bench_open(arguments[1], arguments[2]);
	/* With the heading. */
	bench_scan("E011", "answer,");
	fgets((char[256]){0}, 256, work.answers);
	/* The first round is to warm up: after it every tool moves each time. */
	for (size_t i = 0; i < scans + TOOLS; i++) {
		size_t place = i / TOOLS % 2;
		if (i % TOOLS == 0) {
			bench_scan(places[place], "shown,");
		}
		double bare = bare_scan(i % TOOLS, place);
		double bench = bench_scan(tools[i % TOOLS].tag, "done,");
		if (i >= TOOLS) {
			printf("%.4f %.4f\n", bench, bare);
		}
	}
	fclose(work.lines);
	wait(NULL);
	return 0;
}
