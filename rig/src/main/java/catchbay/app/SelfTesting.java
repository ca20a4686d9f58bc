package catchbay.app;

import catchbay.plan.Ways;
import catchbay.port.PortException;
import catchbay.record.BayTest;
import catchbay.record.SelfTestText;
import catchbay.record.SelfTestText.Head;
import catchbay.run.BayComputer;
import catchbay.run.RunSetup;
import catchbay.store.JournalFile;
import catchbay.store.JournalFolder;
import catchbay.store.StoreException;

import java.io.IOException;
import java.time.LocalDate;
import java.util.Optional;
import java.util.function.BiConsumer;
import java.util.function.Consumer;
import java.util.function.Function;

/** Has a bay try itself by catches of its own, and keeps what came out. Used once. */
final class SelfTesting {

    /** What a test came to. */
    sealed interface Result {

        /** It came to its end. */
        record Found(SelfTestText.Done done, String line) implements Result {}

        /** It was broken off, for the reason given as a sentence. */
        record BrokenOff(Head head, String reason) implements Result {}
    }

    /** What is caught, between the first line of the file and the last. */
    interface Course {
        /** The result, with the line that is kept of it. */
        Result.Found by(TestCatches catches, OpenBay bay, Head head)
                throws TestCatches.Ended, PortException, StoreException, IOException;
    }

    private final Settings settings;
    private final Screen screen;
    private final TestFlow flow;
    private final Optional<String> by;

    /**
     * @param settings the bay's settings, with scale and meter chosen
     * @param screen where progress goes
     * @param by who answers for it
     */
    SelfTesting(Settings settings, Screen screen, TestFlow flow, Optional<String> by) {
        this.settings = settings;
        this.screen = screen;
        this.flow = flow;
        this.by = by;
        by.ifPresent(who -> settings.session(by, false, Optional.empty()));
    }

    /**
     * Tries the bay.
     *
     * @param ways the setups of the test's runs on a calendar day
     * @param unfit refuses a bay that cannot be tried so
     * @param runs how many runs it takes
     * @param page prints the result, with what was told of the bay's computer; done before a signal
     *     may end the program
     */
    Result of(
            BayTest kind,
            Function<LocalDate, Ways> ways,
            Consumer<Ways> unfit,
            int runs,
            Course course,
            BiConsumer<Result, BayComputer> page)
            throws PortException, StoreException, IOException {
        return new CatchSession(settings, screen)
                .tried(
                        ways,
                        unfit,
                        runs,
                        (bay, folder) -> {
                            JournalFolder tests = folder.selfTests();
                            RunSetup today = bay.setup();
                            Head head =
                                    new Head(
                                            FreeName.at(
                                                    bay.time().wallTime(), kind.key(), tests::has),
                                            kind,
                                            bay.origin(),
                                            today.bay(),
                                            today.day(),
                                            by,
                                            runs == 0
                                                    ? Optional.empty()
                                                    : Optional.of(flow.words()));
                            try (StopSignal stop = StopSignal.listening(bay.time());
                                    JournalFile file =
                                            tests.begin(head.name(), SelfTestText.begun(head))) {
                                Result result = kept(head, bay, stop, file, course);
                                page.accept(result, bay.told());
                                return result;
                            }
                        });
    }

    private Result kept(Head head, OpenBay bay, StopSignal stop, JournalFile file, Course course)
            throws PortException, StoreException, IOException {
        TestCatches catches = new TestCatches(bay, stop, screen.lines(), file, head.name(), flow);
        try {
            Result.Found found = course.by(catches, bay, head);
            file.append(found.line());
            return found;
        } catch (TestCatches.Ended ended) {
            file.append(SelfTestText.ended(ended.getMessage()));
            return new Result.BrokenOff(head, ended.getMessage());
        }
    }
}
