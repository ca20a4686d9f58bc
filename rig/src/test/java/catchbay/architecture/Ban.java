package catchbay.architecture;

import com.tngtech.archunit.core.domain.AccessTarget.CodeUnitAccessTarget;
import com.tngtech.archunit.core.domain.JavaAccess;

import java.util.List;
import java.util.Set;
import java.util.function.Predicate;

/**
 * A call that the house does not allow, and what to use instead.
 *
 * @param matches true for an access (call, method reference, field) that is banned
 * @param use what to write instead, as the end of a sentence
 */
record Ban(Predicate<JavaAccess<?>> matches, String use) {

    /**
     * Time comes through one port, so that the same loop runs on the real and on the virtual clock.
     */
    static final List<Ban> REAL_TIME =
            List.of(
                    calls(
                            "java.lang.System",
                            Set.of("nanoTime", "currentTimeMillis"),
                            "the port Timekeeper"),
                    new Ban(
                            access ->
                                    owner(access).startsWith("java.time.")
                                            && name(access).equals("now"),
                            "Timekeeper.wallTime"),
                    anything("java.time.Clock", "the port Timekeeper"),
                    anything("java.time.InstantSource", "the port Timekeeper"),
                    new Ban(
                            access ->
                                    owner(access).equals("java.util.Date")
                                            && isBareConstructor(access),
                            "Timekeeper.wallTime"),
                    calls("java.util.Calendar", Set.of("getInstance"), "Timekeeper.wallTime"),
                    calls(
                            "java.lang.Thread",
                            Set.of("sleep", "onSpinWait"),
                            "Timekeeper.sleepUntil"),
                    calls(
                            "java.util.concurrent.TimeUnit",
                            Set.of("sleep"),
                            "Timekeeper.sleepUntil"),
                    new Ban(
                            access ->
                                    owner(access).equals("java.util.concurrent.locks.LockSupport")
                                            && name(access).startsWith("park"),
                            "Timekeeper.sleepUntil"),
                    anything("java.util.Timer", "a deadline in the run loop"));

    /** Chance without a seed makes a run that nobody can repeat. */
    static final List<Ban> CHANCE_WITHOUT_SEED =
            List.of(
                    calls(
                            "java.lang.Math",
                            Set.of("random"),
                            "a value that comes in through a port"),
                    calls(
                            "java.lang.StrictMath",
                            Set.of("random"),
                            "a value that comes in through a port"),
                    calls(
                            "java.util.UUID",
                            Set.of("randomUUID"),
                            "an identity that comes in through a port"),
                    new Ban(
                            access ->
                                    Set.of("java.util.Random", "java.util.SplittableRandom")
                                                    .contains(owner(access))
                                            && isBareConstructor(access),
                            "a generator made from the seed"),
                    calls(
                            "java.util.random.RandomGenerator",
                            Set.of("of", "getDefault"),
                            "a generator made from the seed"),
                    new Ban(
                            access ->
                                    owner(access).equals("java.util.random.RandomGeneratorFactory")
                                            && name(access).equals("create")
                                            && parameterCount(access) == 0,
                            "create(seed)"),
                    anything(
                            "java.util.concurrent.ThreadLocalRandom",
                            "a generator made from the seed"),
                    anything("java.security.SecureRandom", "a generator made from the seed"),
                    new Ban(
                            access ->
                                    owner(access).equals("java.util.Collections")
                                            && name(access).equals("shuffle")
                                            && parameterCount(access) == 1,
                            "shuffle with a generator made from the seed"));

    /** In rig not even seeded chance: only the stand-in bay plays dice. */
    static final List<Ban> CHANCE =
            List.of(
                    anything("java.util.Random", "a value that comes in through a port"),
                    anything("java.util.SplittableRandom", "a value that comes in through a port"),
                    new Ban(
                            access -> owner(access).startsWith("java.util.random."),
                            "a value that comes in through a port"));

    /** Even who may draw from a generator is handed it, with its seed, by whoever calls. */
    static final List<Ban> CHANCE_MADE =
            List.of(
                    anything("java.util.random.RandomGeneratorFactory", "the caller's generator"),
                    calls(
                            "java.util.random.RandomGenerator",
                            Set.of("of", "getDefault"),
                            "the caller's generator"));

    /**
     * The default locale and zone differ between machines: 9.524 in one shop is 9,524 in the next.
     */
    static final List<Ban> DEFAULT_LOCALE =
            List.of(
                    calls(
                            "java.lang.String",
                            Set.of("formatted"),
                            "String.format(Locale.ROOT, ...)"),
                    new Ban(
                            access ->
                                    owner(access).equals("java.lang.String")
                                            && Set.of("format", "toLowerCase", "toUpperCase")
                                                    .contains(name(access))
                                            && !firstParameterIs(access, "java.util.Locale"),
                            "the variant with Locale.ROOT"),
                    new Ban(
                            access ->
                                    Set.of("java.io.PrintStream", "java.io.PrintWriter")
                                                    .contains(owner(access))
                                            && Set.of("printf", "format").contains(name(access))
                                            && !firstParameterIs(access, "java.util.Locale"),
                            "the variant with Locale.ROOT"),
                    calls("java.time.ZoneId", Set.of("systemDefault"), "a zone from the settings"),
                    calls("java.util.Locale", Set.of("getDefault"), "Locale.ROOT"));

    /** Threads have owners: a class of app, named in the test. */
    static final List<Ban> THREAD =
            List.of(
                    new Ban(
                            access ->
                                    owner(access).equals("java.lang.Thread")
                                            && Set.of(
                                                            "<init>",
                                                            "ofPlatform",
                                                            "ofVirtual",
                                                            "startVirtualThread")
                                                    .contains(name(access)),
                            "the one loop"),
                    anything("java.util.concurrent.Executors", "the one loop"),
                    anything("java.util.concurrent.ForkJoinPool", "the one loop"),
                    anything("java.util.concurrent.ThreadPoolExecutor", "the one loop"),
                    anything("java.util.concurrent.CompletableFuture", "the one loop"),
                    new Ban(
                            access ->
                                    Set.of("parallel", "parallelStream").contains(name(access))
                                            && owner(access).startsWith("java.util."),
                            "a sequential stream"));

    private static final Set<String> EXACT_MATH =
            Set.of(
                    "abs",
                    "absExact",
                    "addExact",
                    "ceil",
                    "ceilDiv",
                    "ceilDivExact",
                    "ceilMod",
                    "clamp",
                    "copySign",
                    "decrementExact",
                    "divideExact",
                    "floor",
                    "floorDiv",
                    "floorDivExact",
                    "floorMod",
                    "fma",
                    "getExponent",
                    "incrementExact",
                    "max",
                    "min",
                    "multiplyExact",
                    "multiplyFull",
                    "multiplyHigh",
                    "negateExact",
                    "nextAfter",
                    "nextDown",
                    "nextUp",
                    "rint",
                    "round",
                    "scalb",
                    "signum",
                    "sqrt",
                    "subtractExact",
                    "toIntExact",
                    "ulp",
                    "unsignedMultiplyHigh");

    /**
     * Math may round exp, log, pow and their kin differently on another machine; a replay must not.
     */
    static final List<Ban> MACHINE_MATH =
            List.of(
                    new Ban(
                            access ->
                                    owner(access).equals("java.lang.Math")
                                            && !EXACT_MATH.contains(name(access))
                                            && !Set.of("PI", "E", "TAU").contains(name(access)),
                            "the same function of StrictMath"));

    /** What a pure room may not ask of the machine it runs on. */
    static final List<Ban> MACHINE =
            List.of(
                    new Ban(
                            access ->
                                    owner(access).equals("java.lang.System")
                                            && !name(access).equals("arraycopy"),
                            "an argument"),
                    calls("java.lang.Throwable", Set.of("printStackTrace"), "an outcome"));

    static Ban calls(String owner, Set<String> names, String use) {
        return new Ban(access -> owner(access).equals(owner) && names.contains(name(access)), use);
    }

    static Ban anything(String owner, String use) {
        return new Ban(access -> owner(access).equals(owner), use);
    }

    /** Reads "X is banned, use Y". */
    String message(JavaAccess<?> access) {
        return access.getTargetOwner().getSimpleName()
                + "."
                + name(access)
                + " is banned, use "
                + use
                + ": "
                + access.getDescription();
    }

    private static String owner(JavaAccess<?> access) {
        return access.getTargetOwner().getName();
    }

    private static String name(JavaAccess<?> access) {
        return access.getTarget().getName();
    }

    private static boolean isBareConstructor(JavaAccess<?> access) {
        return name(access).equals("<init>") && parameterCount(access) == 0;
    }

    private static int parameterCount(JavaAccess<?> access) {
        return parameters(access).size();
    }

    private static boolean firstParameterIs(JavaAccess<?> access, String type) {
        return !parameters(access).isEmpty() && parameters(access).getFirst().equals(type);
    }

    private static List<String> parameters(JavaAccess<?> access) {
        return access.getTarget() instanceof CodeUnitAccessTarget target
                ? target.getRawParameterTypes().stream().map(type -> type.getName()).toList()
                : List.of();
    }
}
