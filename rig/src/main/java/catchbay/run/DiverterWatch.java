package catchbay.run;

import catchbay.run.BayCommand.Way;
import catchbay.run.Outcome.Cause;
import catchbay.run.RunSetup.Feedback;
import catchbay.run.RunSetup.Window;

import java.util.HashSet;
import java.util.Set;

/**
 * What the diverter's switches say: when it passed, where it stands, whether it moved by itself.
 */
final class DiverterWatch {

    private DiverterWatch() {}

    static RunStep contact(RunState state, long at, BayContact contact, boolean active) {
        Set<BayContact> next = new HashSet<>(state.sensed().active());
        if (active) {
            next.add(contact);
        } else {
            next.remove(contact);
        }
        Sensed sensed = state.sensed().with(Set.copyOf(next));
        if (state instanceof RunState.Opening s) {
            return opening(s, sensed, at, contact, active);
        }
        if (state instanceof RunState.Closing s) {
            return closing(s, sensed, at, contact, active);
        }
        if (state instanceof RunState.Settling s) {
            return unmoved(s, sensed, contact, active);
        }
        if (state instanceof RunState.Catching s) {
            boolean travelling =
                    sensed.setup()
                            .diverter()
                            .map(d -> at - s.openNanos() <= d.travelNanosMax())
                            .orElse(false);
            // Switches chatter while the flap still travels; where it stands then, a turn sees.
            return travelling
                    ? RunStep.to(RunMachine.with(s, sensed))
                    : unmovedFromTank(s, sensed, contact, active);
        }
        if (state instanceof RunState.Stilling s) {
            return unmovedFromTank(s, sensed, contact, active);
        }
        if (state instanceof RunState.Dripping s && sensed.plan().window() == Window.FLYING) {
            return unmoved(s, sensed, contact, active);
        }
        return RunStep.to(RunMachine.with(state, sensed));
    }

    static RunStep opening(
            RunState.Opening s, Sensed sensed, long at, BayContact contact, boolean active) {
        if (at < s.commandedNanos()) {
            return RunStep.to(RunMachine.with(s, sensed));
        }
        if (feedback(sensed) == Feedback.TRIGGER) {
            return contact == BayContact.DIVERTER_TRIGGER && active
                    ? opened(s, sensed, at, at - s.commandedNanos())
                    : RunStep.to(RunMachine.with(s, sensed));
        }
        // A switch that chatters before the flap goes closes again: it left when it last opened.
        if (contact == BayContact.DIVERTER_AT_BYPASS) {
            return RunStep.to(
                    new RunState.Opening(sensed, s.commandedNanos(), active ? Ledger.NONE : at));
        }
        if (contact == BayContact.DIVERTER_AT_TANK && active && s.leftNanos() != Ledger.NONE) {
            return opened(s, sensed, Moves.midway(s.leftNanos(), at), at - s.leftNanos());
        }
        return RunStep.to(RunMachine.with(s, sensed));
    }

    static RunStep opened(RunState.Opening s, Sensed sensed, long openNanos, long travelNanos) {
        Sensed open =
                sensed.with(sensed.lines().open(openNanos, false))
                        .with(sensed.total().open(openNanos))
                        .with(sensed.thermometers().open(openNanos))
                        .with(sensed.coupler().opened())
                        .with(sensed.ledger().opened(travelNanos));
        return RunStep.to(
                new RunState.Catching(open, openNanos, openNanos + sensed.plan().catchNanos()));
    }

    static RunStep closing(
            RunState.Closing s, Sensed sensed, long at, BayContact contact, boolean active) {
        if (at < s.commandedNanos()) {
            return RunStep.to(RunMachine.with(s, sensed));
        }
        if (feedback(sensed) == Feedback.TRIGGER) {
            return contact == BayContact.DIVERTER_TRIGGER && !active
                    ? closed(sensed, at, at - s.commandedNanos())
                    : RunStep.to(RunMachine.with(s, sensed));
        }
        if (contact == BayContact.DIVERTER_AT_TANK) {
            return RunStep.to(
                    new RunState.Closing(sensed, s.commandedNanos(), active ? Ledger.NONE : at));
        }
        if (contact == BayContact.DIVERTER_AT_BYPASS && active && s.leftNanos() != Ledger.NONE) {
            return closed(sensed, Moves.midway(s.leftNanos(), at), at - s.leftNanos());
        }
        return RunStep.to(RunMachine.with(s, sensed));
    }

    static RunStep closed(Sensed sensed, long closeNanos, long travelNanos) {
        Sensed shut =
                sensed.with(sensed.lines().close(closeNanos))
                        .with(sensed.total().close(closeNanos))
                        .with(sensed.thermometers().close(closeNanos))
                        .with(sensed.coupler().closed())
                        .with(sensed.ledger().closed(travelNanos));
        return RunStep.to(new RunState.Trailing(shut, closeNanos));
    }

    static RunStep unmoved(RunState state, Sensed sensed, BayContact contact, boolean active) {
        boolean left =
                contact == BayContact.DIVERTER_TRIGGER && active
                        || contact == BayContact.DIVERTER_AT_TANK && active
                        || contact == BayContact.DIVERTER_AT_BYPASS && !active;
        return left
                ? Moves.end(RunMachine.with(state, sensed), moved())
                : RunStep.to(RunMachine.with(state, sensed));
    }

    static RunStep unmovedFromTank(
            RunState state, Sensed sensed, BayContact contact, boolean active) {
        boolean left =
                contact == BayContact.DIVERTER_TRIGGER && !active
                        || contact == BayContact.DIVERTER_AT_TANK && !active
                        || contact == BayContact.DIVERTER_AT_BYPASS && active;
        return left
                ? Moves.end(RunMachine.with(state, sensed), moved())
                : RunStep.to(RunMachine.with(state, sensed));
    }

    /** Whether the diverter has had time to travel and does not stand where it was sent. */
    static boolean strayed(Sensed sensed, Way way, long since, long now) {
        return sensed.setup().diverter().isPresent()
                && now - since > sensed.setup().diverter().get().travelNanosMax()
                && !stands(sensed, way);
    }

    static Outcome moved() {
        return new Outcome.Void(
                Cause.DIVERTER_MOVED,
                "The diverter moved without a command; check its valve, its air or current and its"
                        + " switches.");
    }

    /** Whether the diverter's switches say that it stands there; true where there is none. */
    static boolean stands(Sensed sensed, Way way) {
        if (sensed.setup().diverter().isEmpty()) {
            return true;
        }
        boolean tank = way == Way.TANK;
        return switch (feedback(sensed)) {
            case TRIGGER -> sensed.isActive(BayContact.DIVERTER_TRIGGER) == tank;
            case ENDS ->
                    sensed.isActive(
                            tank ? BayContact.DIVERTER_AT_TANK : BayContact.DIVERTER_AT_BYPASS);
        };
    }

    static Feedback feedback(Sensed sensed) {
        return sensed.setup().diverter().orElseThrow().feedback();
    }
}
