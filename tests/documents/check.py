#!/usr/bin/env python3
"""Runs the commands in the documents and compares their output with the output shown.

Usage: check.py PROGRAM [--long] [DOCUMENT.md]...

In fenced blocks a line `$ command` is run, and the lines after it are its expected output (`...` stands for any
lines). Other lines that begin with `bedshade` are run for their exit status. Each document has its own workspace
with the scenarios, a layout `my_tank.toml` (the demonstration) and a run `my_tank.h5` of it. Commands that take
minutes run only with --long; without it their names and options are looked up in the program's help. So are those
of commands named in the text.
"""
import os, pathlib, re, shlex, shutil, subprocess, sys, tempfile

ROOT = pathlib.Path(__file__).resolve().parents[2]
SLOW = re.compile(r"\b(batch (?!.*--dry-run)|gather|trim|arrange|place|reference|fit)\b|--members|--full")
RUNS = ("my_tank.h5", "other.h5", "RUN.h5")  # prepared in advance, for documents that do not make them
NO_COMMANDS = ("bedshade trajectory",)  # the format name in a file
LAYOUTS = ("my_tank.toml",)
CHANGES = ("my_cuts.toml", "my_moves.toml")


class Command:
    def __init__(self, document, line, text):
        self.where, self.text, self.shown = f"{document}:{line}", text, None

    def is_ours(self):
        return self.text.split()[0].endswith("bedshade")


def commands_in(path):
    """The commands of a document, in order."""
    found, fenced, language, current = [], False, "", None
    for number, line in enumerate(path.read_text().splitlines(), 1):
        if line.startswith("```"):
            fenced, language, current = not fenced, line[3:].strip(), None
        elif not fenced or language not in ("", "console", "sh"):
            continue
        elif line.startswith("$ "):
            current = Command(path.name, number, line[2:])
            found.append(current)
        elif current is not None:
            current.shown = (current.shown or []) + [line.rstrip()]
        elif line.startswith("bedshade "):
            # Text after two blanks or a hash is a description; text in brackets is optional.
            found.append(Command(path.name, number, re.split(r"\s{2,}(?!-)|\s#|\s\[", line)[0]))
    return [command for command in found if command.is_ours()]


def commands_named_in(path):
    """Commands in code spans of the text, `bedshade check my_tank.toml`."""
    text = re.sub(r"^```.*?^```", lambda block: "\n" * block.group().count("\n"), path.read_text(), flags=re.M | re.S)
    return [Command(path.name, text.count("\n", 0, span.start()) + 1, " ".join(span.group(1).split()))
            for span in re.finditer(r"`(bedshade [a-z][^`]*)`", text)
            if span.group(1) not in NO_COMMANDS]


def matches(shown, printed):
    """Whether the printed lines match those shown, where `...` stands for any number of lines."""
    if not shown:
        return not printed
    if shown[0].strip() == "...":
        return any(matches(shown[1:], printed[i:]) for i in range(len(printed) + 1))
    return bool(printed) and shown[0] == printed[0] and matches(shown[1:], printed[1:])


def first_missing(shown, printed):
    """The first line shown that was not printed, for the message."""
    return next((line for line in shown if line.strip() != "..." and line not in printed), "lines in another order")


class Checker:
    def __init__(self, program, long):
        self.program, self.long, self.wrong, self.ran, self.looked_up = program, long, [], 0, 0
        self.kept = pathlib.Path(tempfile.mkdtemp(prefix="bedshade_documents_"))
        (self.kept / "bin").mkdir()
        (self.kept / "bin" / "bedshade").symlink_to(program)
        self.environment = dict(os.environ, BEDSHADE_CACHE=str(self.kept / "cache"),
                                PATH=f"{self.kept / 'bin'}:{os.environ['PATH']}", TERM="dumb")

    def shell(self, text, folder):
        return subprocess.run(["bash", "-c", text], cwd=folder, env=self.environment, text=True,
                              stdout=subprocess.PIPE, stderr=subprocess.PIPE, check=False)

    def prepare(self, folder):
        for name in ("scenarios", "tests", "notebooks-free-docs"):
            (folder / name).symlink_to(ROOT / name)
        shutil.copytree(ROOT / "scenarios", folder, dirs_exist_ok=True)
        for name in LAYOUTS:
            shutil.copy(ROOT / "scenarios/ledge_over_bed.toml", folder / name)
        shutil.copy(ROOT / "scenarios/pump_at_bed.toml", folder / "change.toml")
        for name in CHANGES:
            shutil.copy(ROOT / "scenarios/plate_cut_in_spring.toml", folder / name)
        shutil.copy(ROOT / "scenarios/ledge_meter.csv", folder / "meter.csv")
        shutil.copy(ROOT / "scenarios/ledge_ruler.csv", folder / "ruler.csv")
        run = self.kept / "run.h5"
        if not run.exists():
            self.shell(f"bedshade forecast my_tank.toml --quiet --out {run}", folder)
        for name in RUNS:
            shutil.copy(run, folder / name)
        return set(RUNS + LAYOUTS + CHANGES)

    def report(self, command, why):
        self.wrong.append(f"{command.where}: {command.text}\n    {why}")

    def remove_prepared(self, command, folder, prepared):
        """Remove prepared files that the command itself writes."""
        words = shlex.split(command.text)
        targets = [words[i + 1] for i, word in enumerate(words[:-1]) if word in ("--out", "--page", "--csv")]
        if len(words) > 2 and words[1] == "new":
            targets.append(words[2])
        for target in targets:
            if target in prepared:
                (folder / target).unlink(missing_ok=True)
                prepared.discard(target)

    def run(self, command, folder, prepared):
        self.remove_prepared(command, folder, prepared)
        done = self.shell(re.sub(r"^\S*bedshade", "bedshade", command.text), folder)
        self.ran += 1
        printed = [line.rstrip() for line in (done.stdout + done.stderr).splitlines()]
        refused = command.shown is not None and any("error:" in line for line in command.shown)
        if done.returncode != (2 if refused else 0):
            self.report(command, f"exit {done.returncode}: {done.stderr.strip()[-400:]}")
        elif command.shown is not None and not matches(command.shown, printed) and not matches(
                command.shown, [line.rstrip() for line in done.stdout.splitlines()]):
            self.report(command, f"does not print: {first_missing(command.shown, printed)!r}")

    def look_up(self, command):
        words = shlex.split(command.text, comments=True)
        if len(words) < 2:
            return
        help_text = self.shell(f"bedshade {words[1]} --help", self.kept)
        self.looked_up += 1
        if help_text.returncode != 0:
            self.report(command, f"unknown command {words[1]}")
        for word in words[2:]:
            name = word.split("=")[0]
            name = name.rstrip(",;")
            if word.startswith("--") and not re.search(rf"{name}\b", help_text.stdout):
                self.report(command, f"{words[1]} has no option {name}")

    def check(self, path):
        folder = self.kept / path.stem
        folder.mkdir()
        prepared = self.prepare(folder)
        for command in commands_in(path):
            if SLOW.search(command.text) and not self.long:
                self.look_up(command)
            else:
                self.run(command, folder, prepared)
        for command in commands_named_in(path):
            self.look_up(command)
        shutil.rmtree(folder)


def main():
    words = [word for word in sys.argv[1:] if word != "--long"]
    checker = Checker(pathlib.Path(words[0]).resolve(), "--long" in sys.argv)
    paths = [pathlib.Path(word).resolve() for word in words[1:]]
    for path in paths or [ROOT / "README.md", *sorted((ROOT / "notebooks-free-docs").glob("*.md"))]:
        checker.check(path)
    shutil.rmtree(checker.kept)
    print("\n".join(checker.wrong))
    print(f"{checker.ran} commands run, {checker.looked_up} looked up, {len(checker.wrong)} wrong")
    return 1 if checker.wrong or checker.ran == 0 else 0


if __name__ == "__main__":
    sys.exit(main())
