#!/usr/bin/env bash
# The hooks of .pre-commit-hooks.yaml, as committed, in real repositories under the real pre-commit: what passes in
# silence, what is stopped and with which words, files that are gone, renamed, staged in part, thousands at once.
# What it does is said as it goes. The hooks that build the program take minutes for that, whatever is committed: they
# are run as such with --build, and otherwise with the program that is given.
# Usage: hook.sh PATH-OF-SUMPWRIGHT PATH-OF-PRE-COMMIT [--build]
set -euo pipefail
root="$(cd "$(dirname "$0")/../.." && pwd)"
program="$(realpath "$1")"
pre_commit="$(realpath -s "$2")"
work="$(mktemp -d)"
trap 'rm -rf "$work"' EXIT
mkdir "$work/bin"
ln -s "$program" "$work/bin/sumpwright"
export PATH="$work/bin:$PATH" LC_ALL=C.UTF-8 PRE_COMMIT_HOME="$work/home" GIT_CONFIG_GLOBAL="$work/gitconfig"
git config --global user.name "M. Quill"
git config --global user.email quill@example.org
git config --global init.defaultBranch main
git config --global safe.directory '*'
revision="$(git -C "$root" rev-parse HEAD)"

fail() { echo "hook.sh: $1"; echo "----"; cat "$work/said" 2>/dev/null || true; exit 1; }

# A repository of the demo's pans with one of the hooks, whose findings are known; its program is the one that is given,
# unless it is to be built.
repository() {
    echo "$1 ${2:-}"
    local language=", language: system"
    if [ "${2:-}" = built ]; then language=""; fi
    rm -rf "$work/repo"; mkdir "$work/repo"; cd "$work/repo"; git init --quiet
    cp -r "$root"/fixtures/{pans,oils,vehicles,duties,logs} .
    printf 'project: 1\npans: pans/*.yaml\nknown_findings: known.yaml\n' > sumpwright.yaml
    printf 'repos:\n  - repo: %s\n    rev: %s\n    hooks: [{ id: %s%s }]\n' "$root" "$revision" "$1" "$language" > .pre-commit-config.yaml
    sumpwright screen --write-known --quiet
    git add .; git commit --quiet --message start
    "$pre_commit" install > /dev/null
}

# A commit of what is staged, which must pass (0) or be stopped (1); what is said goes to a file.
commit() {
    local code=0 begun=$SECONDS
    git commit --message "$2" > "$work/said" 2>&1 || code=$?
    if [ "$1" = passes ] && [ $code != 0 ]; then fail "'$2' was stopped"; fi
    if [ "$1" = stopped ] && [ $code = 0 ]; then fail "'$2' passed"; fi
    echo "  $1: $2 ($((SECONDS - begun)) s)"
}

says() { grep --quiet --fixed-strings -- "$1" "$work/said" || fail "it does not say: $1"; }
silent() { if grep --quiet --fixed-strings -- ┌ "$work/said"; then fail "it is not silent"; fi; }

repository sumpwright-system

echo "a remark" >> README.md; git add README.md
commit passes "text alone"; silent; says "Passed"

sed --in-place '1i # a remark' pans/low-finned.yaml; git add pans
commit passes "a line above what is known"; silent

sed --in-place 's/depth: 66 ± 0.3 mm }, facing: down/depth: 20 ± 0.3 mm }, facing: down/' pans/stock-stamped.yaml; git add pans
commit stopped "an inlet out of the oil"
says "pickup.uncovered"; says "pans/stock-stamped.yaml:20:"; says "new: it is not in known.yaml"
git reset --quiet --hard

sed --in-place 's/100 degC: 6.8 mm^2\/s/100 degC: 0.9 mm^2\/s/' oils/trail.yaml; git add oils
commit stopped "an oil like water"
says "pans/stock-stamped.yaml"; says "suction.below-limit"
git reset --quiet --hard

git rm --quiet oils/trail.yaml
commit stopped "an oil that pans use is gone"
says "oils/trail.yaml cannot be read: there is no such file"; says "pans/deep-cast.yaml:5:"
git reset --quiet --hard

# What is conceded is judged by the day, which the hook says; so does the command that it tells.
cat >> sumpwright.yaml <<< 'concessions: concessions.yaml'
cat > concessions.yaml <<< "concessions: 1
accepted:
  old-pattern:
    kind: deviation permit
    pan: pans/low-finned.yaml
    rule: fin.root-too-thin
    object: fins.keel
    bound: 2.5 mm
    reason: The first batch is cast from the old pattern and is used on level ground only.
    accepted_by: { name: M. Quill, function: design authority, on: $(date +%F) }
    expires: $(date --date '90 days' +%F)"
sed --in-place '0,/^title:.*/s//&\nobject: { name: Low pan, state: as designed, revision: A }/' pans/low-finned.yaml
git add .
commit stopped "what is known and is conceded now"; says "it counts against the pan no more"
eval "$(grep --only-matching 'sumpwright screen --tidy-known --on [0-9-]*' "$work/said" | head -1)" 2> /dev/null
git add .; commit passes "what is conceded and known no more"; silent
sed --in-place 's/bound: 2.5 mm/bound: 2.6 mm/' concessions.yaml; git add .
commit stopped "a bound that is exceeded"; says "exceeded: old-pattern"
git reset --quiet --hard HEAD~

git rm --quiet pans/low-finned.yaml
commit stopped "a pan is gone, and what is known of it is not"
says "there is no pan pans/low-finned.yaml"; says "sumpwright screen --tidy-known"
sumpwright screen --tidy-known 2> /dev/null; git add known.yaml
commit passes "a pan is gone"; silent
if grep --quiet low-finned known.yaml; then fail "the list still names the pan"; fi

git mv pans/drain-retrofit.yaml pans/welded.yaml
commit stopped "a pan of another name"; says "pans/welded.yaml"; says "there is no pan pans/drain-retrofit.yaml"
sed --in-place 's/drain-retrofit/welded/' known.yaml; git add known.yaml
commit passes "a pan of another name, in the list as well"; silent

# What is staged is judged, not what lies beside it in the working folder; and that is as before when all is done.
good='depth: 65.9 ± 0.3 mm }, facing: down' bad='depth: 20 ± 0.3 mm }, facing: down'
sed --in-place "s/depth: 66 ± 0.3 mm }, facing: down/$good/" pans/stock-stamped.yaml; git add pans
sed --in-place "s/$good/$bad/" pans/stock-stamped.yaml
commit passes "a good change staged, a bad one not"; silent
grep --quiet "$bad" pans/stock-stamped.yaml || fail "the change that was not staged is lost"
git add pans; sed --in-place "s/$bad/$good/" pans/stock-stamped.yaml
commit stopped "a bad change staged, a good one not"; says "pickup.uncovered"
git reset --quiet --hard

# Two who find at different places, each with what is known of the pans as they are.
sumpwright screen --tidy-known --quiet; git add .; commit passes "the list as it is now"
git checkout --quiet -b other
sed 's/^title: .*/title: A copy/' pans/deep-cast.yaml > pans/zz-copy.yaml
sumpwright screen --write-known --quiet; git add .; commit passes "a pan whose findings are known"
git checkout --quiet main
cp pans/deep-cast.yaml pans/aa-copy.yaml
sumpwright screen --write-known --quiet; git add .; commit passes "another"
git merge --quiet --no-edit other > "$work/said" 2>&1 || fail "the lists do not merge"
sumpwright screen > "$work/said" || fail "the merged list does not hold"
cp known.yaml "$work/merged"; sumpwright screen --write-known --quiet
cmp --quiet known.yaml "$work/merged" || fail "the merged list is not as it would be written"

mkdir notes; for n in $(seq 3000); do echo "pan: 1" > "notes/note-$n.txt"; done; git add notes
commit passes "three thousand files of other kinds"; silent

repository sumpwright-changed
echo "a remark" > README.md; git add README.md
commit passes "text alone"; says "no files to check"
mkdir notes; for n in $(seq 3000); do echo "note: $n" > "notes/a-note-of-some-length-$n.yaml"; done; git add notes
commit passes "three thousand files that no pan uses"; silent
sed --in-place 's/100 degC: 6.8 mm^2\/s/100 degC: 0.9 mm^2\/s/' oils/trail.yaml; git add oils
commit stopped "an oil like water"; says "pans/stock-stamped.yaml"
git reset --quiet --hard
cp pans/low-finned.yaml draft.yaml; sed --in-place 's/\.\.\///; s/baseline: /baseline: pans\//' draft.yaml; git add draft.yaml
commit stopped "a pan that no pattern names"; says "draft.yaml:"

if [ "${3:-}" = --build ]; then
    # Both use what is built once.
    for hook in sumpwright sumpwright-changed; do
        ln -sf "$program" "$work/bin/sumpwright"
        repository $hook built
        rm "$work/bin/sumpwright"
        echo "a remark" > notes.yaml; git add notes.yaml
        commit passes "text alone, by a program built from the repository"; silent; says "Passed"
        sed --in-place 's/depth: 66 ± 0.3 mm }, facing: down/depth: 20 ± 0.3 mm }, facing: down/' pans/stock-stamped.yaml; git add pans
        commit stopped "an inlet out of the oil"; says "pickup.uncovered"
    done
fi
echo "the hooks pass and stop what they should"
