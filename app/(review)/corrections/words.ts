import type { CorrectionView } from '@/lib/registry/corrections/correction';

export const CORRECTION_STATES: Record<CorrectionView['state'], string> = {
  computing: 'Being computed',
  waiting: 'Waits for a decision',
  approved: 'Approved',
  rejected: 'Rejected',
  withdrawn: 'Taken back',
};
