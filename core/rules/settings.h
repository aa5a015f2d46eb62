// Every number of the progression engine that a coach may one day want to change, with
// its unit and where it comes from. [J] our judgement, [C] common practice, [P] published;
// section numbers are those of the domain handbook.
#pragma once

#include <cstdint>

namespace slipway::rules {

// ---- load search and cuts (1.3, 6.1) ----
inline constexpr std::int64_t kStepLeastHundredths = 102;   // L' >= 1.02 L [P: 2-10 %; the search rule J] 1.3
inline constexpr std::int64_t kStepMostHundredths = 110;    // L' <= 1.10 L, else a big jump 1.3
inline constexpr std::int64_t kCutFloorHundredths = 85;     // "-x %" may not fall below (0.85 - x/100) L [J] 6.1
inline constexpr std::int64_t kEpleyReps = 30;              // Epley's constant [P] 1.1
inline constexpr std::int64_t kSmallPlateLeastG = 1250;     // without a body mass VP8 and PU8 go up by 1.25 … [J] 1.3
inline constexpr std::int64_t kSmallPlateMostG = 2500;      // … to 2.5 kg
inline constexpr std::uint32_t kRepsFewer = 2;              // "-10 %" without a load: reps fewer a set [J] 6.1
inline constexpr std::uint32_t kSecondsFewer = 5;           // … of a hold, seconds fewer
inline constexpr std::uint32_t kBodyMassValidDays = 60;     // older than this: missing [J] 1.3
inline constexpr std::int64_t kBigStepAlwaysG = 2000;       // an unearned big step up to 2 kg is taken [J] 6.3 R16
inline constexpr std::int64_t kBigStepAdultHundredths = 150;  // … for adults up to 1.5 L [J] 6.3 R16

// ---- counters (6.1) ----
inline constexpr std::uint32_t kHitsNeeded = 2;             // 2-for-2 [P] 1.5
inline constexpr std::uint32_t kHitsNeededShoulderCare = 3; // [J] 6.4a
inline constexpr std::uint32_t kMissesNeeded = 2;           // [J] R11
inline constexpr std::uint32_t kRepsOverForReserve = 2;     // rn >= hi + 2 shows a reserve that was not given [J] 6.1
inline constexpr std::uint32_t kRirMostHalves = 8;          // "4+" counts as 4 [J] 1.4
inline constexpr std::uint32_t kNoRirUnderAge = 14;         // years; the adult's eye takes its place [J] 1.4
inline constexpr std::int64_t kSpreadMs = 20 * 60 * 1000;   // more than 20 min between two sets is spread [J] 6.1
inline constexpr std::uint32_t kDefaultReserve = 2;         // tgt where nobody wrote one [J] 6.1
inline constexpr std::uint32_t kReserveMost = 4;            // the last answer there is 6.1
inline constexpr std::uint32_t kReserveShoulderCare = 3;    // [C] 5.1, 6.1
inline constexpr std::uint32_t kReserveFirst = 4;           // START, BACK TO FORM: RIR >= 4 [C] R21, R28
inline constexpr std::uint32_t kReservePhase = 3;           // R27: RIR >= 3 [C]
inline constexpr std::uint32_t kReserveTooGoodHalves = 6;   // M10: RIR >= 3 although reps fell [J]
inline constexpr std::uint32_t kRepsFallen = 3;             // M10: rn is 3 or more below r1 [J]
inline constexpr std::uint32_t kSameDoseSessions = 8;       // M09 [J]

// ---- time (6.1, 6.2, 6.3) ----
inline constexpr std::int32_t kGapClass1 = 10, kGapClass2 = 14, kGapClass3 = 21, kGapClass4 = 28, kGapClass5 = 84;  // days [J] 6.1
inline constexpr std::int32_t kBridgeDaysASession = 7;      // floor(gap / 7) sessions bridge [J] 6.1
inline constexpr std::int32_t kBridgePgapMost = 9;          // days [J] 6.1
inline constexpr std::int64_t kAfterIllnessMs = 24LL * 3600 * 1000;  // G02 [J]
inline constexpr std::int32_t kPgapAsk = 1, kPgapAskSore = 2;        // days, G09 [P J]
inline constexpr std::int32_t kWeekBefore = 6;              // G08 looks at the six days before today 6.2b
inline constexpr std::int32_t kPainFreshDays = 7;           // a part's answer counts for 7 days [J] 6.1
inline constexpr std::int32_t kDailyCalmDays = 7;           // 7 days in a row at <= 1 clear an adult below 6 [C] 2.7

// ---- pain and soreness (2.6, 6.3) ----
inline constexpr std::uint32_t kPainStop = 6;               // R01 [P J]
inline constexpr std::uint32_t kPainSwap = 3;               // R02 [P J]
inline constexpr std::uint32_t kPainHold = 1;               // R03 [J]
inline constexpr std::uint32_t kCalmDailyPain = 1;          // "<= 1 in daily life" 2.7
inline constexpr std::uint32_t kSubstituteCalmSessions = 2; // [P J] R02
inline constexpr std::int32_t kSoreStop = 7, kSoreReduce = 4, kSoreRampAgain = 2;  // days, all "more than" [J] R09, R10, R24
inline constexpr std::uint32_t kSoreCounts = 2, kSoreHinders = 3;                  // levels of 1.12 [J]
inline constexpr std::int32_t kShoulderHistoryDays = 56;    // PU8 not within 8 weeks of a shoulder swap [J] 6.5

// ---- dose (6.3, 6.4a) ----
inline constexpr std::uint32_t kHiStep = 2, kHoldStepS = 10, kHoldAddS = 5;        // hi + 2; holds +10 s; R22 +5 s [J] 6.4a
inline constexpr std::uint32_t kHiMost = 20, kHiMostSquat = 25;                    // reps, R13, R17, 6.4a [J]
inline constexpr std::uint32_t kHoldMostS = 60, kHoldMostShortS = 30;              // VP1 and age >= 50: 30 s [J] 6.4a
inline constexpr std::uint32_t kMicroHiTimes = 3;           // R16 a) up to three times [J]
inline constexpr std::uint32_t kSetsMostSquat = 5, kSetsMostPull = 3, kSetsMostPush = 4, kSetsMostOther = 3;  // R16 b) [J]
inline constexpr std::uint32_t kSlowLoweringS = 3, kPauseS = 2;                    // R16 c), d); R17 [J]
inline constexpr std::uint32_t kLoweredRangeLeast = 5, kLoweredRangeBy = 3;        // R11: max(5, lo - 3) to lo [J]
inline constexpr std::uint32_t kSlowBelowReps = 8;          // 6.4b: a range below 8 without load gets 3 s lowering [J]

// ---- milestones (6.5) ----
inline constexpr std::uint32_t kLoadedAfterReps = 10;       // first set >= 10 full reps, twice [C; twice J]
inline constexpr std::uint32_t kTestReps = 3;               // assist -> body weight [C J]
inline constexpr std::uint32_t kTestAgainSessions = 6;      // not again within 6 sessions [J]
inline constexpr std::uint32_t kGobletReps = 25;            // [C] 0.3
inline constexpr std::int64_t kGobletHundredths = 50;       // of body mass [C] 0.3
inline constexpr std::uint32_t kGobletExpected = 22;        // reps expected before the test is offered [J] 6.5
inline constexpr std::int32_t kMastersAge = 50, kAdultAge = 18, kLoadAge = 16, kLoadedAge = 14;  // years [J] 5.7

// ---- technique sign-off (6.8) ----
inline constexpr std::int32_t kSignOffDays = 84;            // [J]
inline constexpr std::uint32_t kIncreasesSinceLook = 2;     // under 16 [J]
inline constexpr std::int32_t kSignOffWaitsDays = 14;       // then just after W04 [J] 6.8
inline constexpr std::uint32_t kOfferAfterSessions = 2;     // offered after the second session on a rung [J] 6.8

// ---- the coach's list (6.9) ----
inline constexpr std::uint32_t kSameReserveEntries = 12;    // W06 [J]
inline constexpr std::uint32_t kGrumbleSessions = 3;        // W04: pain 1-2 three times in a row [J]
inline constexpr std::uint32_t kShortInARow = 3;            // W09 [J]
inline constexpr std::int32_t kNoSessionDays = 10;          // W09 [J]

// ---- placement (5.8) ----
inline constexpr std::int64_t kFirstLoadHundredths = 15, kFirstLoadCarefulHundredths = 10;  // of body mass; youth and >= 50: 10 [J]
inline constexpr std::int64_t kFirstLoadNoMassG = 8000, kFirstLoadNoMassYouthG = 4000;      // grams [J]

}  // namespace slipway::rules
