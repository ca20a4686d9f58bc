package catchbay.metrology;

import catchbay.metrology.CatchEvidence.ShownSpeed;
import catchbay.metrology.Diagnosis.Limits;
import catchbay.metrology.Finding.Missed;
import catchbay.quantity.FlowRate;
import catchbay.quantity.Pressure;
import catchbay.quantity.Ratio;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/** What the catches say of asked against reported: speed input, bay, clamps, following. */
final class FollowJudgement {

    /** Flows that stay within this share stand still. Common practice, no source. */
    private static final double STILL_RATIO = 0.02;

    /** How far the asked flow must go on for a clamp. Common practice, no source. */
    private static final double GOES_ON_RATIO = 0.10;

    private final List<CatchEvidence> catches;
    private final Limits limits;

    FollowJudgement(List<CatchEvidence> catches, Limits limits) {
        this.catches = catches;
        this.limits = limits;
    }

    /** A catch with what its controller was really asked for. */
    private record Target(CatchEvidence evidence, double askedPerPlayed) {
        FlowRate asked() {
            return new FlowRate(evidence.askedFlow().litresPerSecond() * askedPerPlayed);
        }

        /** (1 + control error) over what the controller takes for its speed. */
        Ratio error() {
            return new Ratio(
                    (1 + evidence.comparison().controlError().value()) / askedPerPlayed - 1);
        }

        Ratio expanded() {
            return new Ratio(
                    evidence.comparison().expanded(Comparison.CONTROL_ERROR).value()
                            / askedPerPlayed);
        }
    }

    List<Finding> findings() {
        List<Finding> findings = new ArrayList<>();
        Optional<Finding.SpeedInputWrong> speed = speed();
        speed.ifPresent(findings::add);
        List<Finding.Restricted> restricted = restricted();
        if (!restricted.isEmpty()) {
            findings.add(new Finding.BayRestriction(restricted));
        }
        Set<String> choked = new HashSet<>();
        restricted.forEach(r -> choked.add(r.run()));
        List<Target> targets = new ArrayList<>();
        for (CatchEvidence evidence : catches) {
            boolean judged =
                    evidence.control() == ConstantAdvice.Control.CLOSED_ON_METER
                            && evidence.disturbance().isEmpty()
                            && !evidence.silent()
                            && !choked.contains(evidence.run());
            if (judged) {
                // What the controller takes for its speed is what it works out its target from.
                boolean moved = speed.isPresent() && evidence.speedPlayed();
                targets.add(new Target(evidence, moved ? 1 + speed.get().error().value() : 1));
            }
        }
        for (boolean upper : new boolean[] {true, false}) {
            List<Target> still = still(targets, upper);
            if (!still.isEmpty()) {
                findings.add(clamp(still, upper));
                targets.removeAll(still);
            }
        }
        cannotFollow(targets).ifPresent(findings::add);
        return findings;
    }

    private Optional<Finding.SpeedInputWrong> speed() {
        List<ShownSpeed> shown =
                catches.stream().flatMap(evidence -> evidence.speed().stream()).toList();
        if (shown.isEmpty()) {
            return Optional.empty();
        }
        double ratio = 0;
        double half = 0;
        for (ShownSpeed speed : shown) {
            ratio += speed.ratio() / shown.size();
            // A display rounds the same speed the same way each time: nothing to divide by.
            half += limits.speedStep().metresPerSecond() / 2 / speed.played().metresPerSecond();
        }
        Ratio error = new Ratio(ratio - 1);
        Ratio expanded = new Ratio(half / shown.size());
        double apart = error.magnitude().value();
        if (apart <= expanded.value() || apart <= limits.speed().value()) {
            return Optional.empty();
        }
        ShownSpeed first = shown.getFirst();
        return Optional.of(
                new Finding.SpeedInputWrong(
                        first.shown(), first.played(), error, expanded, first.pulsesPerMile()));
    }

    private List<Finding.Restricted> restricted() {
        List<Finding.Restricted> restricted = new ArrayList<>();
        for (CatchEvidence evidence : catches) {
            List<String> how = new ArrayList<>();
            beyond("the coupler", evidence.coupler(), limits.couplerMost(), true)
                    .ifPresent(how::add);
            beyond("the coupler", evidence.coupler(), limits.couplerLeast(), false)
                    .ifPresent(how::add);
            beyond(
                            "the drop over the strainer",
                            evidence.strainerDrop(),
                            limits.strainerMost(),
                            true)
                    .ifPresent(how::add);
            if (!how.isEmpty()) {
                restricted.add(
                        new Finding.Restricted(
                                evidence.run(), evidence.flow(), String.join(" and ", how)));
            }
        }
        return restricted;
    }

    private static Optional<String> beyond(
            String what, Optional<Pressure> seen, Optional<Pressure> limit, boolean above) {
        if (seen.isEmpty() || limit.isEmpty()) {
            return Optional.empty();
        }
        int order = seen.get().compareTo(limit.get());
        return (above ? order > 0 : order < 0)
                ? Optional.of(
                        what
                                + " was at "
                                + Finding.psi(seen.get())
                                + (above ? ", above the " : ", below the ")
                                + Finding.psi(limit.get())
                                + " that is like the road")
                : Optional.empty();
    }

    /**
     * The catches at the far end of the asked flows over which reported and measured flow stand
     * still while the asked one goes on; empty where there is no such end.
     */
    private List<Target> still(List<Target> targets, boolean upper) {
        Comparator<Target> rising =
                Comparator.comparing(Target::asked)
                        .thenComparing(target -> target.evidence().run());
        List<Target> farFirst = new ArrayList<>(targets);
        farFirst.sort(upper ? rising.reversed() : rising);
        List<Target> still = new ArrayList<>();
        for (Target target : farFirst) {
            if (!still.isEmpty() && !standsWith(still.getFirst(), target)) {
                break;
            }
            still.add(target);
        }
        if (still.isEmpty()) {
            return still;
        }
        Target far = still.getFirst();
        double error = far.error().value() * (upper ? -1 : 1);
        double near = still.getLast().asked().litresPerSecond();
        double goesOn =
                upper ? far.asked().litresPerSecond() / near : near / far.asked().litresPerSecond();
        boolean clamped =
                goesOn >= 1 + GOES_ON_RATIO
                        && error > limits.follow().value()
                        && error > far.expanded().value();
        return clamped ? still : List.of();
    }

    private static boolean standsWith(Target far, Target near) {
        double allowed = STILL_RATIO + far.expanded().value() + near.expanded().value();
        return apart(far.evidence().reportedFlow(), near.evidence().reportedFlow()) <= allowed
                && apart(far.evidence().flow(), near.evidence().flow()) <= allowed;
    }

    private static double apart(FlowRate one, FlowRate other) {
        return Math.abs(other.litresPerSecond() / one.litresPerSecond() - 1);
    }

    private static Finding clamp(List<Target> still, boolean upper) {
        Target far = still.getFirst();
        return new Finding.RateClamp(
                upper,
                far.evidence().reportedFlow(),
                far.evidence().flow(),
                still.getLast().asked(),
                far.asked());
    }

    private Optional<Finding> cannotFollow(List<Target> targets) {
        List<Missed> missed = new ArrayList<>();
        for (Target target : targets) {
            double apart = target.error().magnitude().value();
            if (apart > limits.follow().value() && apart > target.expanded().value()) {
                missed.add(
                        new Missed(
                                target.evidence().run(),
                                target.asked(),
                                target.error(),
                                target.expanded()));
            }
        }
        if (missed.isEmpty()) {
            return Optional.empty();
        }
        missed.sort(
                Comparator.comparingDouble((Missed m) -> m.error().magnitude().value())
                        .reversed()
                        .thenComparing(Missed::run));
        boolean told =
                catches.stream().noneMatch(CatchEvidence::speedPlayed)
                        || catches.stream().anyMatch(evidence -> evidence.speed().isPresent());
        return Optional.of(new Finding.CannotFollow(List.copyOf(missed), limits.follow(), told));
    }
}
