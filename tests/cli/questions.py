"""Questions in JSON for `compute` and `decide`: one a line in, one answer a line out, many in one run."""
import json
import subprocess

from kit import DONE, EXE, LONGEST_S, Failed


def ask_lines(world, *words, lines, code=DONE):
    """Answers, in the order of the lines; a line is an object, or text as it stands."""
    asked = "".join((line if isinstance(line, str) else json.dumps(line)) + "\n" for line in lines)
    done = subprocess.run([EXE, *words], input=asked, capture_output=True, text=True, timeout=LONGEST_S, cwd=world.top, env=world.environment())
    if code is not None and done.returncode != code:
        raise Failed(f"{' '.join(words)}: wanted exit {code}, got {done.returncode}: {done.stdout[-600:]} {done.stderr[-600:]}")
    answers = [json.loads(line) for line in done.stdout.splitlines()]
    if len(answers) != len(lines):
        raise Failed(f"{len(lines)} questions, {len(answers)} answers: {done.stderr[-600:]}")
    return answers


def ask(world, *words, line, code=DONE):
    return ask_lines(world, *words, lines=[line], code=code)[0]
